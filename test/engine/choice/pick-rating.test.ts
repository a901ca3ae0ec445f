// A picked rating is the smallest that holds when it is written out, and an earlier analysis picks the same.
import { describe, expect, it } from 'vitest';
import { ratings } from '../../kit/hand-rules.ts';
import { filesOfDesign, stating, wordsOf } from '../../kit/plant-design.ts';
import { analysed, complaints, findingsOf } from '../../kit/plants.ts';
import { soundPlants } from '../../kit/sound-plants.ts';

const picking = soundPlants.filter(
  ({ design }) => design.arrangement !== 'branches' && wordsOf(design, 'transformer', 'rated_power') === 'pick',
);

describe('a picked rating', () => {
  it.each(picking)('of $design.name is the smallest that holds when written out', ({ design }) => {
    const picked = analysed(filesOfDesign(design)).analysis.picks[0]!.text!;
    const rated = (words: string) => Number.parseFloat(words) * (words.endsWith('MVA') ? 1e6 : 1e3);
    const written = (rating: number) =>
      analysed(filesOfDesign(stating(design, 'transformer', 'rated_power', `${rating / 1000} kVA`)));
    const smaller = ratings.findLast(rating => rating < 0.99 * rated(picked))!;
    expect(complaints(written(rated(picked))).map(({ message }) => message)).toEqual([]);
    const failing = ['transformer_loading', 'transformer_spare', 'requirement'].flatMap(code =>
      findingsOf(written(smaller), code, 'T1'),
    );
    expect(failing.length).toBeGreaterThan(0);
  });

  it('is the same after an edit elsewhere as from scratch', () => {
    const [{ design }] = picking as [(typeof picking)[number]];
    const stiffer = stating(design, 'grid', 'x_over_r', '7');
    const before = analysed(filesOfDesign(design)).analysis;
    const after = analysed(filesOfDesign(stiffer), undefined, before).analysis;
    const fresh = analysed(filesOfDesign(stiffer)).analysis;
    expect(after.picks).toEqual(fresh.picks);
    expect(after.findings).toEqual(fresh.findings);
  });
});
