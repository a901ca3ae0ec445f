// What was not looked at in a plant, in words that every output repeats: each check says it of itself, the rest says it here.
import type { KindName } from '../kinds/kind.ts';
import { type Component, factIn, type Plant } from '../model/plant.ts';
import type { Graph } from '../results/graph.ts';
import type { Check } from './check.ts';
import { isForming } from './island-judgement.ts';

/**
 * What stays unchecked in this plant, as words that follow "not checked:"; undefined where nothing is left open. It
 * follows from the plant's facts, and names the tags and the properties that would change it.
 */
export type Unchecked = (plant: Plant, graph: Graph) => string | undefined;

/** What no check looks at, or only in part: an entry moves to the check that takes it over. */
export const general: readonly Unchecked[] = [
  plant => {
    const described = [...(has(plant, 'fuse') ? ['fuses'] : []), ...protectionFacts(plant)];
    if (described.length > 0)
      return `protection: ${listed(described)} ${described.length === 1 && described[0] !== 'fuses' ? 'is' : 'are'} read but not judged, nor are fault currents, breaking capacity, cable withstand, pre-charge and earthing`;
    return has(plant, 'converter', 'battery')
      ? 'protection, of which the plant describes none: fault currents, fuses, breaking capacity, cable withstand, pre-charge, earthing'
      : undefined;
  },
  plant => {
    const screened = stating(plant, 'transformer', 'screen', 'yes');
    return screened.length === 0
      ? undefined
      : `the earthed screen of ${listed(screened)}: what passes between windings through their capacitance, with a screen or without`;
  },
  plant => {
    const following = stating(plant, 'duty', 'profile');
    return following.length === 0
      ? undefined
      : `power over time during ${listed(following)}: a \`profile\` is read but not followed`;
  },
  plant => {
    const tags = tagsOf(plant, 'transformer', 'cable', 'filter');
    return tags.length === 0 ? undefined : `heating over time of ${listed(tags)}`;
  },
  ({ topology }) => {
    const sharing = topology.routes.filter(({ net }) => net !== undefined && net.taps.length > 1);
    return sharing.length === 0
      ? undefined
      : `what each of ${listed(sharing.map(({ converter }) => converter))} draws from their net of cables over a whole run: run times and energies have them share by their ratings`;
  },
  plant => {
    const forming = plant.duties.filter(duty => isForming(plant, duty)).map(({ tag }) => tag);
    const silent = without(plant, 'converter', 'fault_current');
    if (forming.length === 0) return undefined;
    const fed =
      silent.length === 0
        ? 'which is all that its converters feed'
        : `of which ${listed(silent)} says nothing (\`fault_current\`)`;
    return `fault current on the island of ${listed(forming)}, ${fed}: whether protection clears with so little; harmonics without a network`;
  },
  plant => {
    const unread = islandFactsOfFollowers(plant);
    return unread.length === 0
      ? undefined
      : `facts of an island, of duties that form none: ${listed(unread)} (\`mode = forming\` would have them judged)`;
  },
  plant => {
    const silent = withoutLosses(plant);
    return silent.length === 0
      ? undefined
      : `what ${listed(silent)} ${silent.length === 1 ? 'loses' : 'lose'} while no power passes, and with it the standby loss and the net round trip: an efficiency does not tell it, \`no_load_loss\` or parts of the loss would`;
  },
  () => 'fire, gas and touch protection',
];

/** Converters of whose loss an efficiency is all that is known in some case. */
function withoutLosses(plant: Plant): readonly string[] {
  const parts = ['no_load_loss', 'fixed_loss', 'linear_loss', 'quadratic_loss', 'switching_loss'];
  const silent = (converter: Component): boolean =>
    plant.cases.some(each => parts.every(part => factIn(each, converter, part) === undefined));
  return plant.components.filter(each => each.kind.name === 'converter' && silent(each)).map(({ tag }) => tag);
}

/** Facts on protection that no result reads, as the plant states them, each with its tags. */
function protectionFacts(plant: Plant): readonly string[] {
  const facts = [
    ['converter', 'fault_current'],
    ['converter', 'precharge'],
    ['converter', 'insulation_monitoring'],
    ['battery', 'fault_resistance'],
  ] as const;
  return facts.flatMap(([kind, property]) => {
    const tags = stating(plant, kind, property);
    return tags.length === 0 ? [] : [`\`${property}\` of ${listed(tags)}`];
  });
}

/** What duties that form an island in no case state of one, each with its tags. */
function islandFactsOfFollowers(plant: Plant): readonly string[] {
  const followers = plant.duties.filter(duty => !isForming(plant, duty)).map(({ tag }) => tag);
  const facts = [['load_step'], ['motor_start'], ['black_start', 'yes']] as const;
  return facts.flatMap(([property, word]) => {
    const tags = stating(plant, 'duty', property, word).filter(tag => followers.includes(tag));
    return tags.length === 0 ? [] : [`\`${property}\` of ${listed(tags)}`];
  });
}

/** Each once, those of the checks first. */
export function notCheckedIn(plant: Plant, graph: Graph, checks: readonly Check[]): readonly string[] {
  const own = checks.flatMap(check => check.notChecked ?? []);
  const said = [...own, ...general].flatMap(unchecked => unchecked(plant, graph) ?? []);
  return [...new Set(said)];
}

export function has(plant: Plant, ...kinds: readonly KindName[]): boolean {
  return plant.components.some(({ kind }) => kinds.includes(kind.name));
}

/** In the order of the text. */
export function tagsOf(plant: Plant, ...kinds: readonly KindName[]): readonly string[] {
  return plant.components.filter(({ kind }) => kinds.includes(kind.name)).map(({ tag }) => tag);
}

/** Tags of a kind's components that state a property in no case. */
export function without(plant: Plant, kind: KindName, property: string): readonly string[] {
  const stated = ({ tag, facts }: Component): boolean =>
    facts.has(property) || plant.cases.some(each => each.facts.get(tag)?.has(property) === true);
  return plant.components.filter(each => each.kind.name === kind && !stated(each)).map(({ tag }) => tag);
}

/** Tags of a kind's components that state a property in some case, or just this word of it. */
function stating(plant: Plant, kind: KindName, property: string, word?: string): readonly string[] {
  const says = (component: Component): boolean =>
    plant.cases.some(each => {
      const value = factIn(each, component, property)?.value;
      return value !== undefined && (word === undefined || (value.type === 'word' && value.word === word));
    });
  return plant.components.filter(each => each.kind.name === kind && says(each)).map(({ tag }) => tag);
}

/** `T1, T2 and F1`. More than a handful is counted, so that the words stay readable. */
export function listed(tags: readonly string[]): string {
  const most = 6;
  if (tags.length <= 1) return tags.join();
  if (tags.length > most) return `${tags.slice(0, most).join(', ')} and ${tags.length - most} more`;
  return `${tags.slice(0, -1).join(', ')} and ${tags.at(-1)}`;
}
