// The little complex arithmetic that the alternating-current functions share, on plain pairs of numbers.

export type Complex = { readonly re: number; readonly im: number };

export const complex = (re: number, im: number): Complex => ({ re, im });

export const add = (a: Complex, b: Complex): Complex => ({ re: a.re + b.re, im: a.im + b.im });

export const multiply = (a: Complex, b: Complex): Complex => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});

/** Quotient a/b; undefined where b is zero, so that no infinity travels on. */
export function divide(a: Complex, b: Complex): Complex | undefined {
  const square = b.re * b.re + b.im * b.im;
  if (square === 0) return undefined;
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square };
}

export const conjugate = (a: Complex): Complex => ({ re: a.re, im: -a.im });

export const magnitude = (a: Complex): number => Math.sqrt(a.re * a.re + a.im * a.im);
