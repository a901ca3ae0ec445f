// Agreed deviations: turned into notes as far as their bound and until their date, never hazards or mistakes.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../engine/checks/example.ts';
import { checks } from '../../engine/checks/index.ts';
import { throughParts } from '../kit/checks.ts';
import {
  type Analysed,
  analysed,
  complaintCodes,
  type Edit,
  edited,
  findingsOf,
  fixed,
  lineAt,
  theFinding,
  worst,
} from '../kit/plants.ts';

const spare = ['transformer_spare = 5 %', 'transformer_spare = 20 %'] as const;

/** The sound plant with a spare of 6 % where 20 % are wanted, and lines in place of its requirement. */
function accepting(lines: string, today?: string, ...edits: readonly Edit[]): Analysed {
  return analysed(edited(soundExample, spare, ['require T1.loading <= 95 %', lines], ...edits), today);
}

const accept = (bound: string, until = '2027-06-30') =>
  `accept transformer_spare on T1${bound} until ${until} because "item 12 of the minutes"`;

describe('an acceptance', () => {
  it('makes the finding a note that keeps its words, with reason, date and place', () => {
    const plant = accepting(accept(''), '2026-11-25');
    expect(complaintCodes(plant)).toEqual([]);
    const note = theFinding(plant, 'accepted');
    expect(note).toMatchObject({ severity: 'note', subject: 'T1', fixes: [] });
    for (const words of [
      '`transformer_spare`',
      '2027-06-30',
      'item 12 of the minutes',
      '20 %',
      worst(plant, 'T1.spare').display,
    ])
      expect(note.message).toContain(words);
    expect(lineAt(plant, note.place)).toBe('rated_power = 500 kVA');
    expect(note.related.map(({ place }) => lineAt(plant, place))).toContain(accept(''));
  });

  it('reaches as far down as its bound', () => {
    const share = 100 * worst(accepting(''), 'T1.spare').value;
    expect(complaintCodes(accepting(accept(` down to ${share - 0.01} %`)))).toEqual([]);
    const beyond = accepting(accept(` down to ${share + 0.01} %`));
    expect(complaintCodes(beyond)).toEqual(['warning transformer_spare']);
    expect(theFinding(beyond, 'transformer_spare').related.at(-1)!.message).toContain(' only.');
  });

  it('reaches as far up as its bound', () => {
    const rule = ['transformer_spare = 20 %', 'converter_loading = 80 %'] as const;
    const share = 100 * worst(accepting('', undefined, rule), 'K1.loading').value;
    const upTo = (bound: number) =>
      accepting(`accept converter_loading on K1 up to ${bound} % until 2027-06-30 because "short"`, undefined, rule);
    expect(complaintCodes(upTo(share + 0.01))).toEqual([]);
    expect(complaintCodes(upTo(share - 0.01))).toEqual(['warning converter_loading']);
  });

  it('holds through its day and no longer', () => {
    expect(complaintCodes(accepting(accept(''), '2027-06-30'))).toEqual([]);
    const late = accepting(accept(''), '2027-07-01');
    expect([...complaintCodes(late)].sort()).toEqual(['warning acceptance_expired', 'warning transformer_spare']);
    expect(lineAt(late, theFinding(late, 'acceptance_expired').place)).toBe(accept(''));
    expect(theFinding(late, 'acceptance_expired').message).toContain('2027-06-30');
  });

  it('never runs out where no day is given', () => {
    expect(complaintCodes(accepting(accept('', '1999-12-31')))).toEqual([]);
  });

  it('may be renewed beside the one that ran out', () => {
    const renewed = accepting(`${accept('', '2026-01-31')}\n${accept('')}`, '2026-11-25');
    expect(complaintCodes(renewed)).toEqual(['warning acceptance_expired']);
    expect(findingsOf(renewed, 'accepted')).toHaveLength(1);
  });

  it('may stand beside a narrower one', () => {
    expect(findingsOf(accepting(`${accept(' down to 10 %')}\n${accept(' down to 5 %')}`), 'accepted')).toHaveLength(1);
  });

  it('that meets nothing is a finding, and its fix takes it out', () => {
    const plant = accepting(accept(''), '2026-11-25', ['transformer_spare = 20 %', 'transformer_spare = 5 %']);
    expect(complaintCodes(plant)).toEqual(['warning acceptance_unused']);
    const [fix] = theFinding(plant, 'acceptance_unused').fixes;
    const after = analysed(fixed(plant.files, fix!));
    expect(complaintCodes(after)).toEqual([]);
    expect([...after.files.values()][0]).not.toContain('accept');
  });

  it('meets only its own component', () => {
    const plant = accepting('accept transformer_spare on K1 until 2027-06-30 because "x"');
    expect([...complaintCodes(plant)].sort()).toEqual(['warning acceptance_unused', 'warning transformer_spare']);
  });

  it('covers a finding whose fact came from a part', () => {
    const text = edited(soundExample, spare, ['require T1.loading <= 95 %', accept('')]);
    expect(complaintCodes(analysed(throughParts(text)))).toEqual([]);
  });

  it('may be of an error that is no hazard', () => {
    const plant = accepting(
      'accept discharge_time on B1 down to 90 min until 2027-06-30 because "two shifts"',
      undefined,
      ['transformer_spare = 20 %', 'transformer_spare = 5 %'],
      ['for 45 min', 'for 2 h'],
    );
    expect(complaintCodes(plant)).toEqual([]);
    expect(findingsOf(plant, 'accepted')).toHaveLength(1);
  });
});

describe('what can’t be accepted', () => {
  it.each(checks.filter(check => check.hazard === true).map(({ code, on }) => ({ code, on })))(
    'the hazard $code',
    ({ code }) => {
      const plant = accepting(`accept ${code} on K1 until 2027-06-30 because "x"`, undefined, [
        'secondary_voltage = 360 V',
        'secondary_voltage = 390 V',
      ]);
      expect(theFinding(plant, 'wrong_value').message).toMatch(/can't be accepted: it is a hazard/);
    },
  );

  it('the hazard stays an error whatever the acceptance says', () => {
    const plant = accepting('accept uncontrolled_charging on K1 until 2027-06-30 because "x"', undefined, [
      'secondary_voltage = 360 V',
      'secondary_voltage = 390 V',
    ]);
    expect(theFinding(plant, 'uncontrolled_charging').severity).toBe('error');
  });

  it('a mistake in the text', () => {
    const plant = accepting('accept unknown_property on T1 until 2027-06-30 because "x"', undefined, [
      'load_loss = 5.8 kW',
      'lode_loss = 5.8 kW',
    ]);
    expect(theFinding(plant, 'wrong_value').message).toContain('a mistake in the text is mended');
    expect(theFinding(plant, 'unknown_property').severity).toBe('error');
  });

  it('without saying why', () => {
    const plant = accepting('accept transformer_spare on T1 until 2027-06-30 because " "');
    expect(theFinding(plant, 'wrong_value').message).toMatch(/^This reason says nothing/);
    expect(findingsOf(plant, 'accepted')).toEqual([]);
  });

  it('a code that does not exist, or a component that does not', () => {
    expect(theFinding(accepting(accept('').replace('spare', 'spair')), 'unknown_name').message).toContain(
      'did you mean `transformer_spare`',
    );
    expect(theFinding(accepting(accept('').replace('T1', 'T7')), 'unknown_name').message).toContain(
      'no component `T7`',
    );
  });
});
