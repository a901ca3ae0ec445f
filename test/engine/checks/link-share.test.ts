// The stated parts of the choppers on one DC link: they make its power, or nobody knows what each of them carries.
import { describe, expect, it } from 'vitest';
import { linkShareCheck } from '../../../engine/checks/link-share.ts';
import { showsItself } from '../../kit/checks.ts';
import { withChopper, within, withTwoChoppers } from '../../kit/choppers.ts';
import { type Edit, findingsOf, textAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = linkShareCheck;

showsItself(linkShareCheck, { severity: 'error' });

const stating = (tag: string, share: string): Edit =>
  within(`chopper ${tag}`, 'current =', `share = ${share}\n  current =`);

describe('parts of one power', () => {
  it('that are too much, or too little, are told once, at the first', () => {
    for (const [second, sum] of [
      ['70 %', '110 %'],
      ['50 %', '90 %'],
    ]) {
      const plant = withTwoChoppers(stating('Q1', '40 %'), stating('Q2', second!));
      const found = theFinding(plant, code);
      expect(found.message).toContain(`40 % (Q1), ${second} (Q2) of its power, together ${sum}`);
      expect(found.limit).toEqual({ name: undefined, number: 1, display: '100 %' });
      expect(found.message).toContain('the parts of one power make 100 %');
      expect(textAt(plant, found.place)).toBe('share = 40 %');
      expect(found.related.map(({ place }) => textAt(plant, place))).toEqual([`share = ${second}`]);
      expect(plant.analysis.values.worst('B1.current')?.value).toBeUndefined();
    }
  });

  it('must leave something for the others', () => {
    expect(theFinding(withTwoChoppers(stating('Q2', '100 %')), code).message).toContain('nothing is left for Q1, so');
    expect(findingsOf(withTwoChoppers(stating('Q2', '99 %')), code)).toEqual([]);
  });

  it('are no question for one chopper alone', () => {
    const alone = (share: string) => withChopper(['  current =', `  share = ${share}\n  current =`]);
    expect(theFinding(alone('60 %'), code).message).toContain('Q1 is told to carry 60 %');
    expect(findingsOf(alone('100 %'), code)).toEqual([]);
    expect(worst(alone('100 %'), 'Q1.current').value).toBeCloseTo(worst(withChopper(), 'Q1.current').value, 9);
  });

  it('are judged in the case that states them anew', () => {
    const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
    const plant = withTwoChoppers(
      stating('Q1', '40 %'),
      stating('Q2', '60 %'),
      cases('case other { Q1.share = 70 % }\ncase swapped { Q1.share = 60 %, Q2.share = 40 % }'),
    );
    expect(theFinding(plant, code).message).toContain('in case other, together 130 %');
    const twice = withTwoChoppers(
      stating('Q1', '40 %'),
      stating('Q2', '70 %'),
      cases('case other { Q1.share = 70 % }'),
    );
    expect(theFinding(twice, code).message).toContain('of its power, together 110 %');
  });
});
