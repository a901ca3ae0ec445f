// Complex arithmetic keeps the laws that it is used for.

import { expect, test } from 'vitest';
import { add, complex, conjugate, divide, magnitude, multiply } from '../../../engine/physics/complex.ts';

test('a quotient times its divisor is the dividend', () => {
  const quotient = divide(complex(3, -7), complex(-2, 5))!;
  const back = multiply(quotient, complex(-2, 5));
  expect(back.re).toBeCloseTo(3, 12);
  expect(back.im).toBeCloseTo(-7, 12);
});

test('a number times its conjugate is its magnitude squared', () => {
  expect(multiply(complex(3, 4), conjugate(complex(3, 4)))).toEqual(complex(25, 0));
  expect(magnitude(complex(3, 4))).toBe(5);
  expect(add(complex(1, 2), complex(3, 4))).toEqual(complex(4, 6));
});

test('nothing is divided by zero', () => {
  expect(divide(complex(1, 1), complex(0, 0))).toBeUndefined();
});
