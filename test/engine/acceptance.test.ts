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
  textAt,
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

  it.each([
    ['transformer_spare on T1', 'transformer_loading', [['rated_power = 500 kVA', 'rated_power = 300 kVA']]],
    ['harmonic_loading on T1', 'transformer_loading', [['rated_power = 500 kVA', 'rated_power = 300 kVA']]],
    ['dc_trip_margin on K1', 'dc_window', [['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 700 V']]],
    ['discharge_time on B1', 'battery_current', [['discharge_current = 280 A', 'discharge_current = 50 A']]],
    ['discharge_time on B1', 'power_shortfall', [['discharge = 400 kW', 'discharge = 40 MW']]],
  ] as const)('of %s is not called needless while %s stands, which is worse', (what, worse, edits) => {
    const plant = accepting(
      `accept ${what} until 2027-06-30 because "short"`,
      undefined,
      ['transformer_spare = 20 %', 'transformer_spare = 5 %'],
      ...(edits as readonly Edit[]),
    );
    const codes = complaintCodes(plant);
    expect(codes).toContain(`error ${worse}`);
    expect(codes).not.toContain('warning acceptance_unused');
    expect(plant.analysis.acceptances).toMatchObject([{ state: 'exceeded' }]);
  });

  it.each([
    ['a fact is missing', 'error missing_fact', ['  secondary_voltage = 360 V\n', '']],
    ['facts contradict each other', 'error impossible_value', ['every 15 min', 'every 60 s']],
    ['the component stands in no chain', 'warning unconnected', ['MAIN -> T1 -> F1', 'MAIN -> F1']],
  ] as const)('is not called needless while %s', (_, complaint, edit) => {
    const sparing = ['transformer_spare = 20 %', 'transformer_spare = 5 %'] as const;
    const plant = accepting(accept(''), undefined, sparing, edit);
    expect(complaintCodes(plant)).toContain(complaint);
    expect(complaintCodes(plant)).not.toContain('warning acceptance_unused');
  });

  it.each([
    ['an assumed tolerance', 'warning missing_fact', ['400 V ± 10 %', '400 V']],
    ['an error of another kind', 'error battery_current', ['discharge_current = 280 A', 'discharge_current = 50 A']],
  ] as const)('is called needless beside %s', (_, complaint, edit) => {
    const sparing = ['transformer_spare = 20 %', 'transformer_spare = 5 %'] as const;
    const codes = complaintCodes(accepting(accept(''), undefined, sparing, edit));
    expect(codes).toContain(complaint);
    expect(codes).toContain('warning acceptance_unused');
  });

  it('of a battery is called needless although a converter that it does not feed falls short', () => {
    const other = `bus N1 {}
converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
battery B2 is B { resistance = 9 Ω }
connect MAIN -> T1 -> F1 -> N1
connect N1 -> K1 -> B1
connect N1 -> K2 -> B2`;
    const battery = /battery B1 \{[^}]*\}[^}]*\}[^}]*\}[^}]*\}\n/.exec(soundExample)![0];
    const part = battery.replace('battery B1', 'part battery B');
    const plant = accepting(
      'accept discharge_time on B1 until 2027-06-30 because "short"',
      undefined,
      ['transformer_spare = 20 %', 'transformer_spare = 5 %'],
      [battery, `${part}\nbattery B1 is B {}\n`],
      ['connect MAIN -> T1 -> F1 -> K1 -> B1', other],
    );
    const power = plant.analysis.findings.filter(
      ({ code }) => code === 'battery_current' || code === 'power_shortfall',
    );
    expect(power.map(({ code, subject }) => `${code} ${subject}`)).toEqual([
      'power_shortfall K2',
      'power_shortfall B2',
    ]);
    expect(complaintCodes(plant)).toContain('warning acceptance_unused');
  });

  it('is not called needless either where the worse finding is accepted too', () => {
    const plant = accepting(
      `${accept('')}\naccept transformer_loading on T1 until 2027-06-30 because "for one winter"`,
      undefined,
      ['rated_power = 500 kVA', 'rated_power = 400 kVA'],
    );
    expect(complaintCodes(plant)).toEqual([]);
    expect(plant.analysis.acceptances.map(({ state }) => state)).toEqual(['exceeded', 'in force']);
  });

  it('meets only its own component', () => {
    const plant = accepting('accept transformer_spare on K1 until 2027-06-30 because "x"');
    expect([...complaintCodes(plant)].sort()).toEqual(['warning acceptance_unused', 'warning transformer_spare']);
  });

  it('is not sent to a component where the finding is accepted already', () => {
    const wrong = 'accept transformer_spare on K1 until 2027-06-30 because "x"';
    expect(theFinding(accepting(`${wrong}\n${accept('')}`), 'acceptance_unused').message).toBe(
      'There is no finding `transformer_spare` on K1 to accept any more: remove this line.',
    );
    const other = 'accept transformer_loading on T1 until 2027-06-30 because "x"';
    const [told] = findingsOf(accepting(`${wrong}\n${other}`), 'acceptance_unused');
    expect(told!.message).toContain('but one on T1');
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

describe('what stands in the list', () => {
  it('is each acceptance with its terms and what has become of it', () => {
    const share = 100 * worst(accepting(''), 'T1.spare').value;
    const stateOf = (line: string, today?: string) => accepting(line, today).analysis.acceptances[0];
    expect(stateOf(accept(' down to 5 %'), '2026-11-25')).toMatchObject({
      code: 'transformer_spare',
      subject: 'T1',
      bound: 'down to 5 %',
      until: '2027-06-30',
      because: 'item 12 of the minutes',
      state: 'in force',
    });
    expect(stateOf(accept(''))).toMatchObject({ bound: undefined, state: 'in force' });
    expect(stateOf(accept(''), '2027-07-01')).toMatchObject({ state: 'expired' });
    expect(stateOf(accept(` down to ${share + 0.01} %`))).toMatchObject({ state: 'exceeded' });
  });

  it('is unused where the finding is of another component, or the component has only another finding', () => {
    for (const [terms, instead] of [
      ['transformer_spare on K1', 'to accept, but one on T1: name that, or remove this line'],
      ['transformer_loading on T1', 'to accept any more: remove this line'],
    ] as const) {
      const plant = accepting(`accept ${terms} until 2027-06-30 because "x"`);
      expect(plant.analysis.acceptances).toMatchObject([{ state: 'unused' }]);
      const [code, , tag] = terms.split(' ');
      expect(theFinding(plant, 'acceptance_unused').message).toBe(
        `There is no finding \`${code}\` on ${tag} ${instead}.`,
      );
      expect(theFinding(plant, 'transformer_spare').severity).toBe('warning');
    }
  });

  it('tells each apart where there are several', () => {
    const plant = accepting(`accept altitude on K1 until 2027-06-30 because "x"\n${accept('')}`);
    expect(plant.analysis.acceptances.map(({ state }) => state)).toEqual(['unused', 'in force']);
  });
});

describe('what is written beside a finding', () => {
  it('that was accepted: the words, the terms and the finding itself', () => {
    const plain = theFinding(accepting(''), 'transformer_spare');
    const note = theFinding(accepting(accept('')), 'accepted');
    expect(note.message).toBe(
      `Accepted (\`transformer_spare\`) until 2027-06-30, because: item 12 of the minutes. ${plain.message}`,
    );
    expect(note.related.map(({ message }) => message)).toEqual([
      ...plain.related.map(({ message }) => message),
      'Accepted here.',
    ]);
    expect(note.accepted).toMatchObject({
      code: 'transformer_spare',
      severity: 'warning',
      message: plain.message,
      until: '2027-06-30',
      because: 'item 12 of the minutes',
    });
  });

  it('that was accepted until yesterday, or not so far: the finding keeps what it names, and names the acceptance', () => {
    const plain = theFinding(accepting(''), 'transformer_spare').related.map(({ message }) => message);
    const beside = (lines: string, today?: string) => {
      const plant = accepting(lines, today);
      const { related } = theFinding(plant, 'transformer_spare');
      expect(lineAt(plant, related.at(-1)!.place)).toBe(lines);
      return related.map(({ message }) => message);
    };
    expect(beside(accept(''), '2027-07-01')).toEqual([...plain, 'Was accepted until 2027-06-30.']);
    expect(beside(accept(' down to 20 %'))).toEqual([...plain, 'Accepted down to 20 % only.']);
  });

  it('that ran out or meets nothing: a warning of its own that removes it and names no number', () => {
    for (const plant of [accepting(accept(''), '2027-07-01'), accepting(accept('').replace('T1', 'K1'))]) {
      const found = plant.analysis.findings.find(({ code }) => code.startsWith('acceptance_'))!;
      expect(found).toMatchObject({ hazard: false, related: [], severity: 'warning' });
      expect(found.fixes).toMatchObject([{ title: 'Remove the acceptance', safe: false }]);
      expect(found.value ?? found.limit ?? found.point ?? found.source).toBeUndefined();
    }
  });
});

describe('a bound', () => {
  it('is met by a value that is just as large: no rounding decides', () => {
    const share = worst(accepting(''), 'T1.spare').value;
    for (const slack of [-1e-10, 0, 1e-10])
      expect(complaintCodes(accepting(accept(` down to ${share * (1 + slack)}`)))).toEqual([]);
    const rule: Edit = ['transformer_spare = 20 %', 'converter_loading = 80 %'];
    const loading = worst(accepting('', undefined, rule), 'K1.loading').value;
    const upTo = (bound: number) => `accept converter_loading on K1 up to ${bound} until 2027-06-30 because "short"`;
    for (const slack of [-1e-10, 0, 1e-10])
      expect(complaintCodes(accepting(upTo(loading * (1 + slack)), undefined, rule))).toEqual([]);
  });

  it('of another dimension is a mistake where it stands, and accepts nothing', () => {
    const plant = accepting(accept(' down to 5 V'));
    expect([...complaintCodes(plant)].sort()).toEqual(['error wrong_dimension', 'warning transformer_spare']);
    const found = theFinding(plant, 'wrong_dimension');
    expect(found).toMatchObject({ hazard: false, subject: 'T1', related: [], fixes: [], value: undefined });
    expect(textAt(plant, found.place)).toBe('5 V');
    expect(found.message).toBe(
      `This bound is a voltage; what \`transformer_spare\` on T1 reports is a ratio: ${worst(plant, 'T1.spare').display}.`,
    );
  });

  it('bounds nothing where the finding reports no value', () => {
    const plant = accepting('accept impossible_value on T1 up to 5 % until 2027-06-30 because "x"', undefined, [
      'load_loss = 5.8 kW',
      'load_loss = 58 kW',
    ]);
    const { related } = theFinding(plant, 'impossible_value');
    expect(related.at(-1)!.message).toBe('Accepted up to 5 % only.');
  });
});

describe('what can’t be accepted', () => {
  it('a note: there is nothing to agree to', () => {
    const plant = accepting('accept assumed_by_tool on T1 until 2027-06-30 because "x"');
    expect(theFinding(plant, 'assumed_by_tool', 'T1').severity).toBe('note');
    expect(findingsOf(plant, 'accepted')).toEqual([]);
    expect(findingsOf(plant, 'acceptance_unused')).toHaveLength(1);
  });

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
