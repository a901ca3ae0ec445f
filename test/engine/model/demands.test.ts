// `require` and `accept` as text: what they may read and name, and which acceptances there can't be.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { mistakesIn, mistakesWith } from '../../kit/mistakes.ts';
import { analysed, complaints, type Edit, edited } from '../../kit/plants.ts';

const messagesWith = (line: string) =>
  complaints(analysed(`${soundExample}\n${line}\n`)).map(finding => finding.message);

describe('a requirement', () => {
  it.each([
    'T1.loading <= 95 %',
    'T1.loading <= 0.95',
    'T1.loading * 2 <= 190 %',
    'T1.primary_voltage >= T1.secondary_voltage',
    'spare: T1.spare >= 5 %',
    'K1.loading during braking <= 80 %',
    'T1.loading <= 95 % because "somebody wants it"',
    'T1.loading + K1.loading <= 200 %',
  ])('%s', requirement => expect(mistakesWith(`require ${requirement}`)).toEqual([]));

  it('that does not hold is found where it stands', () => {
    expect(mistakesWith('require T1.loading <= 60 %')).toEqual(['requirement at "require T1.loading <= 60 %"']);
  });

  it.each([
    ['a misspelt result', 'T1.loadin <= 95 %', 'unknown_property at "loadin"', 'did you mean `loading`?'],
    ['a misspelt tag', 'T9.loading <= 95 %', 'unknown_name at "T9.loading"', 'did you mean `T1.loading`?'],
    ['another dimension', 'T1.loading <= 95 V', 'wrong_dimension at "T1.loading <= 95 V"', 'a ratio and a voltage'],
    ['a misspelt duty', 'K1.loading during brakng <= 70 %', 'unknown_name at "brakng"', 'did you mean `braking`?'],
    ['no duty', 'K1.loading during T1 <= 70 %', 'wrong_value at "T1"', 'T1 is a transformer'],
    ['a word', 'T1.neutral <= 5', 'wrong_value at "neutral"', 'is a word, not a number'],
    ['no comparison', 'T1.loading', 'syntax at "T1.loading"', 'needs a comparison'],
    ['no limit', 'T1.loading <=', 'syntax at "<="', 'A value is missing'],
    ['no value', '<= 95 %', 'syntax at "<="', 'A value is missing'],
    ['an assignment', 'T1.loading = 95 %', 'syntax at "="', 'To compare'],
    ['two comparisons', '10 % <= T1.loading <= 95 %', 'syntax at "<="', 'One comparison at a time'],
    ['no reason', 'T1.loading <= 95 % because', 'syntax at "because"', 'a reason in quotes'],
  ])('with %s is one mistake', (_, requirement, expected, message) => {
    expect(mistakesWith(`require ${requirement}`)).toEqual([expected]);
    expect(messagesWith(`require ${requirement}`)[0]).toContain(message);
  });

  it('has a name of its own', () => {
    const both = 'require spare: T1.spare >= 5 %\nrequire spare: K1.loading <= 99 %';
    expect(mistakesWith(both)).toEqual(['duplicate at "spare"']);
  });

  it('that can not be judged is a note, never silence', () => {
    const { analysis } = analysed(edited(soundExample, ['rated_power = 500 kVA', 'rated_power = 500 kW']));
    expect(analysis.findings.filter(({ code }) => code === 'requirement').map(({ severity }) => severity)).toEqual([
      'note',
    ]);
  });
});

describe('an acceptance', () => {
  const narrow: Edit = ['transformer_spare = 5 %', 'transformer_spare = 10 %'];
  const withAcceptance = (line: string, today?: string) =>
    mistakesIn(`${edited(soundExample, narrow)}\n${line}\n`, today);
  const reason = 'until 2027-06-30 because "agreed with the customer"';
  const spared = 'warning transformer_spare at "rated_power = 500 kVA"';

  it('turns a warning into a note', () => {
    expect(withAcceptance('')).toEqual([spared]);
    expect(withAcceptance(`accept transformer_spare on T1 ${reason}`)).toEqual([]);
    expect(withAcceptance(`accept transformer_spare on T1 down to 5 % ${reason}`, '2027-06-30')).toEqual([]);
  });

  it('holds through its day and as far as its bound', () => {
    const line = `accept transformer_spare on T1 down to 5 % ${reason}`;
    expect(withAcceptance(line, '2027-07-01')).toEqual([spared, `warning acceptance_expired at "${line}"`]);
    expect(withAcceptance(`accept transformer_spare on T1 down to 9 % ${reason}`)).toEqual([spared]);
  });

  it('with a bound of another dimension accepts nothing', () => {
    expect(withAcceptance(`accept transformer_spare on T1 down to 5 V ${reason}`)).toEqual([
      spared,
      'wrong_dimension at "5 V"',
    ]);
  });

  it('that meets nothing is a finding', () => {
    const line = `accept transformer_spare on T1 ${reason}`;
    expect(mistakesWith(line)).toEqual([`warning acceptance_unused at "${line}"`]);
  });

  it('is not called unused where a mistake hides what it accepts', () => {
    const line = `accept transformer_spare on T1 ${reason}`;
    expect(mistakesIn(`${edited(soundExample, narrow, ['400 V ± 10 %', '400 A ± 10 %'])}\n${line}\n`)).toEqual([
      'wrong_dimension at "400 A ± 10 %"',
    ]);
  });

  it.each([
    ['of a misspelt code', `transformer_spar on T1 ${reason}`, 'unknown_name at "transformer_spar"'],
    ['of a hazard', `uncontrolled_charging on K1 ${reason}`, 'wrong_value at "uncontrolled_charging"'],
    ['of a mistake in the text', `wrong_dimension on T1 ${reason}`, 'wrong_value at "wrong_dimension"'],
    ['on a misspelt tag', `transformer_spare on T9 ${reason}`, 'unknown_name at "T9"'],
    ['on nothing', `transformer_spare ${reason}`, 'syntax at "transformer_spare"'],
    ['without a day', 'transformer_spare on T1 because "x"', 'syntax at "T1"'],
    ['until a day that there is not', 'transformer_spare on T1 until 2027-06-31 because "x"', 'syntax at "2027-06-31"'],
    ['without a reason', 'transformer_spare on T1 until 2027-06-30', 'syntax at "2027-06-30"'],
    ['without its bound', `transformer_spare on T1 down to ${reason}`, 'syntax at "to"'],
    ['with a bound in no direction', `transformer_spare on T1 to 5 % ${reason}`, 'syntax at "to"'],
    ['with a bound that is no number', `transformer_spare on T1 down to peak ${reason}`, 'unknown_name at "peak"'],
  ])('%s is one mistake', (_, acceptance, expected) =>
    expect(mistakesWith(`accept ${acceptance}`)).toEqual([expected]),
  );
});
