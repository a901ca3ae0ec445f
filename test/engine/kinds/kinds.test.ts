// The kinds keep what the language promises: their names, and texts that hold in the language itself.
import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { kindByName, kinds, propertyOf } from '../../../engine/kinds/index.ts';
import type { Kind, Property } from '../../../engine/kinds/kind.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { isKeyword } from '../../../grammar/words.ts';
import { faultsOf, readLiteral } from './written-value.ts';

/** Names that plants are written with: none of these may ever be renamed or dropped. A star marks the required ones. */
const promised: Readonly<Record<string, string>> = {
  plant: 'altitude ambient follows title revision',
  grid: `voltage* frequency* fault_power x_over_r temporary_overvoltage unbalance earthing distortion_limit
    voltage_change_limit`,
  bus: 'voltage',
  cable: 'length* cross_section* parallel conductor insulation installation grouping ambient reactance',
  transformer: `rated_power* primary_voltage* secondary_voltage* impedance* load_loss no_load_loss no_load_current
    eddy_loss ratio_tolerance tap tap_changer tap_range tap_step vector_group construction neutral time_constant overload
    screen`,
  filter: `converter_inductance* network_inductance capacitance* connection damping_resistance damping resistance
    rated_current`,
  converter: `ac_current* dc_voltage* dc_trip dc_current ac_voltage switching_frequency* modulation efficiency
    fixed_loss linear_loss quadratic_loss ambient_derating altitude_derating overload overload_class cooling
    dc_capacitance fault_current harmonics opening_time precharge insulation_monitoring price`,
  chopper: 'low_side_voltage* high_side_voltage* current* efficiency link_voltage battery_side',
  battery: `chemistry cells_in_series* strings capacity* open_circuit_voltage voltage voltage_limits resistance*
    fault_resistance soc* lowest_connected discharge_current charge_current temperature state_of_health string_spread
    auxiliary_power throughput_warranty`,
  fuse: 'rated_current* rated_voltage breaking_capacity class melting least_breaking_current',
  duty: 'discharge charge duration repeat power_factor reactive at soc voltage mode profile',
  practice: `control_margin control_margin_worst diode_margin dc_trip_margin converter_loading transformer_loading
    transformer_spare cable_drop_ac cable_drop_dc capacitor_share ripple fuse_loading voltage_change require_source`,
};

const promisedChoices: readonly (readonly [string, string, string])[] = [
  ['grid', 'earthing', 'tn tt it'],
  ['cable', 'conductor', 'copper aluminium'],
  ['cable', 'insulation', 'xlpe pvc'],
  ['transformer', 'tap_changer', 'none off_circuit on_load'],
  ['transformer', 'construction', 'dry liquid'],
  ['transformer', 'neutral', 'floating earthed'],
  ['transformer', 'screen', 'yes no'],
  ['filter', 'connection', 'star delta'],
  ['filter', 'damping', 'passive active none'],
  ['converter', 'modulation', 'sine third_harmonic space_vector'],
  ['converter', 'cooling', 'air liquid'],
  ['chopper', 'battery_side', 'low high'],
  ['converter', 'precharge', 'built_in none'],
  ['converter', 'insulation_monitoring', 'built_in none'],
  ['battery', 'chemistry', 'lfp nmc lead_acid'],
  ['fuse', 'class', 'gG aR gR gBat'],
  ['duty', 'mode', 'following forming'],
  ['practice', 'require_source', 'yes no'],
];

/** Defaults that the language names, as it names them. */
const promisedDefaults: readonly (readonly [string, string, string])[] = [
  ['plant', 'altitude', '1000 m'],
  ['cable', 'parallel', '1'],
  ['converter', 'modulation', 'space_vector'],
  ['battery', 'strings', '1'],
  ['practice', 'control_margin', '10 %'],
  ['practice', 'control_margin_worst', '3 %'],
  ['practice', 'diode_margin', '3 %'],
  ['practice', 'dc_trip_margin', '3 %'],
  ['practice', 'converter_loading', '100 %'],
  ['practice', 'transformer_loading', '100 %'],
  ['practice', 'transformer_spare', '0 %'],
  ['practice', 'cable_drop_ac', '3 %'],
  ['practice', 'cable_drop_dc', '2 %'],
  ['practice', 'capacitor_share', '5 %'],
  ['practice', 'ripple', '30 %'],
  ['practice', 'fuse_loading', '80 %'],
  ['practice', 'voltage_change', '3 %'],
];

const noKinds = ['index.ts', 'kind.ts', 'converter-losses.ts', 'reference.ts', 'ride-through.ts', 'shared.ts'];
const properties = kinds.flatMap(kind =>
  kind.properties.map(property => ({ path: `${kind.name}.${property.name}`, kind, property })),
);

describe('the list of kinds', () => {
  test('holds each file of the folder, once', () => {
    const files = readdirSync(new URL('../../../engine/kinds/', import.meta.url));
    const names = files.filter(file => !noKinds.includes(file)).map(file => file.replace('.ts', ''));
    expect(kinds.map(kind => kind.name).sort()).toEqual(names.sort());
  });

  test('finds kinds and properties by name, and nothing by a wrong one', () => {
    expect(kindByName.get('battery')?.name).toBe('battery');
    expect(kindByName.get('generator')).toBeUndefined();
    expect(propertyOf(kindNamed('cable'), 'length')?.name).toBe('length');
    expect(propertyOf(kindNamed('cable'), 'impedance')).toBeUndefined();
    expect(propertyOf(kindNamed('cable'), 'constructor')).toBeUndefined();
  });
});

describe('the choices', () => {
  const choices = properties.flatMap(({ path, property: { type } }) =>
    type.is === 'choice' ? type.choices.map(choice => [path, choice] as const) : [],
  );

  test.each(choices)('of %s: `%s` can be written, since it is no word of the language', (_, choice) => {
    expect(isKeyword(choice)).toBe(false);
  });
});

describe('the promise of the language', () => {
  test('names all kinds', () => {
    expect(kinds.map(kind => kind.name).sort()).toEqual(Object.keys(promised).sort());
  });

  test.each(Object.entries(promised))(
    '%s has each promised property, and asks for the marked ones alone',
    (name, list) => {
      const words = list.split(/\s+/u);
      const kind = kindNamed(name);
      const known = kind.properties.map(property => property.name);
      expect(known).toEqual(expect.arrayContaining(words.map(word => word.replace('*', ''))));
      const asked = kind.properties.filter(property => property.need === 'required').map(property => property.name);
      expect(asked.sort()).toEqual(
        words
          .filter(word => word.endsWith('*'))
          .map(word => word.slice(0, -1))
          .sort(),
      );
    },
  );

  test.each(promisedChoices)('%s.%s is one of %s', (kind, name, list) => {
    expect(propertyNamed(kind, name).type).toMatchObject({ is: 'choice', choices: list.split(' ') });
  });

  test.each(promisedDefaults)('%s.%s defaults to %s', (kind, name, text) => {
    expect(propertyNamed(kind, name).fallback?.text).toBe(text);
  });

  test('a transformer of unknown impedance tolerance has ± 10 %, of unknown ratio tolerance at most ± 0.5 %', () => {
    expect(propertyNamed('transformer', 'impedance').toleranceFallback?.text).toBe('10 %');
    expect(propertyNamed('transformer', 'ratio_tolerance').otherwise).toMatch(/^0\.5 %/);
  });

  test('a battery needs to say its voltage at rest, and a duty its power', () => {
    expect(kindNamed('battery').oneOf).toEqual([['open_circuit_voltage', 'voltage']]);
    expect(kindNamed('duty').oneOf).toEqual([['discharge', 'charge', 'profile']]);
  });

  test.each(['cable', 'transformer', 'filter', 'converter', 'chopper', 'battery', 'fuse'])('a %s has a price', kind => {
    expect(propertyNamed(kind, 'price').type).toMatchObject({ dimension: 'money' });
  });
});

describe('every kind', () => {
  test.each(kinds)('$name has each property once', kind => {
    const names = kind.properties.map(property => property.name);
    expect(names).toEqual([...new Set(names)]);
  });

  test.each(kinds)('$name says in one sentence what it is', ({ meaning }) => {
    expect(meaning).toMatch(/^[A-Z][^\n]*[^.]\.$/u);
  });

  test.each(kinds)('$name asks for one of properties that it has and that nothing else settles', kind => {
    for (const name of (kind.oneOf ?? []).flat()) {
      expect(propertyOf(kind, name), name).toMatchObject({ need: 'optional' });
      expect(propertyOf(kind, name), name).not.toHaveProperty('fallback');
    }
  });
});

describe('every property', () => {
  test.each(properties)('$path is named in lower snake case and explained in one sentence', ({ property }) => {
    expect(property.name).toMatch(/^[a-z]+(_[a-z]+)*$/u);
    expect(property.meaning).toMatch(/^[A-Z][^\n]*[^.]\.$/u);
    expect(property.meaning.length).toBeLessThanOrEqual(120);
  });

  test.each(properties)('$path has an example that holds', ({ property }) => {
    expect(faultsOf(property, property.example)).toEqual([]);
  });

  test.each(properties)(
    '$path takes no default where it is required, and says its reason elsewhere',
    ({ property }) => {
      const { fallback, toleranceFallback, need } = property;
      if (need === 'required') expect([fallback, property.otherwise]).toEqual([undefined, undefined]);
      // What follows from other facts has no text; a sentence says it.
      if (need === 'expected') expect(fallback ?? property.otherwise).toBeDefined();
      for (const reason of [fallback?.reason, toleranceFallback?.reason])
        if (reason !== undefined) expect(reason).toMatch(/^\S.{5,}[^.]$/u);
    },
  );

  test.each(properties)('$path is bounded the right way round, on axes that differ', ({ property: { type } }) => {
    if (type.is !== 'quantity') return;
    const [least = Number.NEGATIVE_INFINITY, greatest = Number.POSITIVE_INFINITY] = [
      type.least?.value,
      type.greatest?.value,
    ];
    expect(least).toBeLessThan(greatest);
    expect(type.forms.includes('curve')).toBe(type.axes !== undefined);
    const axes = (type.axes ?? []).map(axis => axis.name);
    expect(axes).toEqual([...new Set(axes)]);
  });

  const withDefault = properties.filter(({ property }) => property.fallback !== undefined);
  test.each(withDefault)('$path has a default that holds', ({ property }) => {
    expect(faultsOf(property, property.fallback?.text ?? '')).toEqual([]);
  });

  const withTolerance = properties.filter(({ property }) => property.toleranceFallback !== undefined);
  test.each(withTolerance)('$path has a default tolerance in per cent, and takes tolerances', ({ property }) => {
    expect(readLiteral(property.toleranceFallback?.text ?? '').dimension).toBe(dimensions.ratio);
    expect(property.type).toMatchObject({ forms: expect.arrayContaining(['tolerance']) });
  });
});

describe('a practice', () => {
  test.each(kindNamed('practice').properties)('$name says where its default comes from', ({ fallback }) => {
    expect(fallback?.reason).toMatch(/^common practice, no source$|^(IEC|EN|IEEE|ISO) \d/u);
  });
});

describe('the reader of this test', () => {
  const { cable, battery, duty } = Object.fromEntries(kinds.map(kind => [kind.name, kind]));

  test.each([
    [cable, 'cross_section', '35 mm', 'wrong dimension'],
    [cable, 'length', '0 m', 'out of bounds'],
    [cable, 'parallel', '1.5', 'no whole number'],
    [cable, 'length', '1 m .. 2 m', 'range is no form'],
    [cable, 'conductor', 'iron', 'no choice'],
    [battery, 'soc', '90 % .. 10 %', 'reversed'],
    [battery, 'soc', '10 % .. 110 %', '110 % is out of bounds'],
    [battery, 'resistance', 'curve current { 1 A 1 Ω, 2 A 2 Ω }', 'no curve over one of the axes'],
    [battery, 'resistance', 'curve soc { 20 % 1 Ω, 10 % 2 Ω }', 'x does not rise'],
    [battery, 'resistance', '1 Ω per cell', 'per is not allowed'],
    [duty, 'discharge', '400 kW until 45 min', 'no number with a unit'],
    [duty, 'discharge', '400 kW for 45 m', '45 m is no time'],
    [duty, 'charge', '400 kVA', 'wrong dimension'],
  ])('finds the fault of line %#', (kind, name, text, fault) => {
    const property = kind === undefined ? undefined : propertyOf(kind, name);
    if (property === undefined) throw new Error(`no ${name}`);
    expect(whatIsSaidOf(property, text)).toContain(fault);
  });
});

function whatIsSaidOf(property: Property, text: string): string {
  try {
    return faultsOf(property, text).join();
  } catch (thrown) {
    return String(thrown);
  }
}

function kindNamed(name: string): Kind {
  const kind = kindByName.get(name);
  if (kind === undefined) throw new Error(`no kind ${name}`);
  return kind;
}

function propertyNamed(kind: string, name: string): Property {
  const property = propertyOf(kindNamed(kind), name);
  if (property === undefined) throw new Error(`no property ${kind}.${name}`);
  return property;
}
