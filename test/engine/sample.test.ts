// The starter's two plants: the sound one raises nothing; in its first draft each of six mistakes is found where it stands.
import { describe, expect, it } from 'vitest';
import {
  type Analysed,
  analysed,
  complaintCodes,
  complaints,
  type Edit,
  edited,
  findingsOf,
  lineAt,
  theFinding,
} from '../kit/plants.ts';
import { starter } from '../kit/starter.ts';

const today = '2026-11-25';
const draftPath = 'first-draft.plant';

function draft(...edits: readonly Edit[]): Analysed {
  const files = new Map(starter(draftPath));
  files.set(draftPath, edited(files.get(draftPath)!, ...edits));
  return analysed(files, today);
}

interface Mistake {
  readonly what: string;
  /** Where the draft shows it: code and line. */
  readonly shows: readonly (readonly [code: string, line: string])[];
  readonly mend: readonly Edit[];
}

const altitudeNote = (plant: Analysed) =>
  findingsOf(plant, 'assumed_by_tool', 'FirstDraft').filter(({ message }) => message.includes('altitude'));

/** In an order in which each mending shows its effect: a battery that is cold can't be told from one that is small. */
const mistakes: readonly Mistake[] = [
  {
    what: 'network without tolerance',
    shows: [['missing_fact', 'voltage = 400 V']],
    mend: [['voltage = 400 V\n', 'voltage = 400 V ± 10 % from "connection agreement, 4.2"\n']],
  },
  {
    what: 'transformer sized on active power',
    shows: [['transformer_loading', 'rated_power = 400 kVA']],
    mend: [
      ['rated_power = 400 kVA', 'rated_power = 500 kVA'],
      ['load_loss = 4.6 kW', 'load_loss = 5.8 kW'],
      ['no_load_loss = 750 W', 'no_load_loss = 800 W'],
    ],
  },
  {
    what: 'unheated container',
    shows: [
      ['ambient_range', 'ambient = -20 °C .. 35 °C assumed "open platform, container without heating"'],
      ['outside_curve', 'case winter { B1.temperature = -10 °C }'],
    ],
    mend: [
      [
        'ambient = -20 °C .. 35 °C assumed "open platform, container without heating"',
        'ambient = 5 °C .. 40 °C assumed "heated and ventilated container"',
      ],
      ['B1.temperature = -10 °C', 'B1.temperature = 15 °C'],
    ],
  },
  {
    what: 'strings by energy alone',
    shows: [
      ['battery_current', 'strings = 2'],
      ['power_shortfall', 'duty start_peak { discharge = peak for 45 min, power_factor = 0.95, at = MAIN }'],
    ],
    mend: [['strings = 2', 'strings = 4']],
  },
  {
    what: 'winding of the network’s own voltage',
    shows: [
      ['uncontrolled_charging', 'secondary_voltage = 400 V'],
      ['voltage_reserve', 'secondary_voltage = 400 V'],
    ],
    mend: [['secondary_voltage = 400 V', 'secondary_voltage = 360 V']],
  },
];

const altitude: Edit = ['plant FirstDraft {\n', 'plant FirstDraft {\n  altitude = 1920 m\n'];
const allMended: readonly Edit[] = [altitude, ...mistakes.flatMap(({ mend }) => mend)];

describe('the valley station', () => {
  const plant = analysed(starter('valley-station.plant'), today);

  it('raises no error and no warning', () => {
    expect(complaints(plant).map(({ message }) => message)).toEqual([]);
  });

  it('has its acceptance in use and its requirements met', () => {
    expect(findingsOf(plant, 'accepted').map(({ subject }) => subject)).toEqual(['T1']);
    expect(findingsOf(plant, 'requirement')).toEqual([]);
    expect(findingsOf(plant, 'acceptance_unused')).toEqual([]);
  });

  it('shows every value with a number, but for these', () => {
    const unknown = plant.analysis.values.names.filter(name => plant.analysis.values.worst(name)?.value === undefined);
    // A direct-current cable has no AC impedance, how often the start peak comes is not said, no distortion limit is.
    // Nor how the cables lie, where the control measures and how well; a converter alone circulates nothing, and one battery equalises nothing.
    // The network asks for no ride-through, and no duty forms an island.
    const reasons = [
      /^K1\.(swell|dip|load_step|motor_start|black_start)_/,
      /^W[12]\.(ampacity|loading)$/,
      /^K1\.(reactive_error|unmeasured_reactive_power)$/,
      /^K1\.(circulating|equalising)_/,
      // The converter states no capacitance of its link.
      /^K1\.link_voltage_ripple$/,
      /^W2\.series_/,
      /^B1\.(yearly_throughput|yearly_cycles|warranty_life|taper_soc)$/,
      /^MAIN\.worst_harmonic/,
      // An efficiency has no parts, and says nothing of what is lost without power.
      /^K1\.(loss_(conducting|switching)|idle_loss)$/,
      /^\w+\.standby_loss$/,
      // Over the period of a repeated discharge: the start peak states none, and braking is a charge.
      /^(start_peak|braking)\.net_round_trip$/,
    ];
    expect(unknown.filter(name => !reasons.some(reason => reason.test(name)))).toEqual([]);
  });

  it('reminds of the acceptance once its day has passed', () => {
    const late = analysed(starter('valley-station.plant'), '2027-07-01');
    expect([...complaintCodes(late)].sort()).toEqual(['warning acceptance_expired', 'warning transformer_spare']);
  });
});

describe('the first draft', () => {
  it.each(mistakes)('$what: found by code, on its line', ({ shows }) => {
    const plant = draft();
    for (const [code, line] of shows) {
      const found = findingsOf(plant, code);
      expect(found.length, code).toBeGreaterThan(0);
      expect(
        found.map(({ place }) => lineAt(plant, place)),
        code,
      ).toContain(line);
    }
  });

  it('forgotten altitude: the default is named', () => {
    const [note] = altitudeNote(draft());
    expect(note?.message).toContain('`altitude = 1000 m`');
    expect(lineAt(draft(), note!.place)).toBe('plant FirstDraft {');
    expect(altitudeNote(draft(altitude))).toEqual([]);
  });

  it('shows nothing else', () => {
    const codes = new Set(mistakes.flatMap(({ shows }) => shows.map(([code]) => code)));
    expect(
      complaints(draft())
        .filter(({ code }) => !codes.has(code))
        .map(({ message }) => message),
    ).toEqual([]);
  });

  it('loses one mistake after the other as they are mended, and none comes back', () => {
    const edits: Edit[] = [altitude];
    let before = new Set(complaints(draft(altitude)).map(({ code }) => code));
    for (const { what, shows, mend } of mistakes) {
      edits.push(...mend);
      const after = new Set(complaints(draft(...edits)).map(({ code }) => code));
      for (const [code] of shows) {
        expect(before, what).toContain(code);
        expect(after, what).not.toContain(code);
      }
      expect(
        [...after].filter(code => !before.has(code)),
        what,
      ).toEqual([]);
      before = after;
    }
    expect([...before]).toEqual([]);
  });

  it('would show each mistake even if it were the only one', () => {
    for (const { what, shows, mend } of mistakes) {
      const others = allMended.filter(edit => !mend.includes(edit));
      const plant = draft(...others);
      expect(
        complaints(plant).map(({ code }) => code),
        what,
      ).toContain(shows[0]![0]);
    }
  });

  it('is a hazard by its winding, and the fix of the winding ends that', () => {
    const found = theFinding(draft(), 'uncontrolled_charging');
    expect(found).toMatchObject({ severity: 'error', hazard: true });
    expect(found.fixes.map(({ title }) => title)).toEqual(['Lower the secondary voltage to 360 V']);
  });
});
