// In words: which device parts a blocked converter from network or battery, how soon, and in which states.
import type { Component } from '../model/plant.ts';
import { type BlockedState, blockedStates, type Opening, openingIn } from '../results/states.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import type { CheckContext } from './context.ts';

export interface StateOpening {
  readonly state: BlockedState;
  readonly opening: Opening;
}

export function openingsIn(context: CheckContext, converter: Component, caseIndex: number): readonly StateOpening[] {
  const read = context.read(converter, caseIndex);
  return blockedStates.map(state => ({ state, opening: openingIn(read, converter, state) }));
}

const stateWords: Readonly<Record<BlockedState, string>> = {
  blocking: 'without a trip',
  trip: 'on a trip',
  standby: 'in standby',
};

/** `on a trip and in standby`. */
export function inStates(states: readonly BlockedState[]): string {
  const words = states.map(state => stateWords[state]);
  return words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

const devices: Readonly<Record<Exclude<Opening['device'], 'none'>, string>> = {
  ac: 'the AC device opens',
  dc: 'the DC contactor opens',
  both: 'the first of AC device and DC contactor opens',
};
const properties = { ac: '`opening_time`', dc: '`dc_opening_time`', both: '`opening_time`' } as const;

/** `the AC device opens after 80 ms`, with the states where they differ; those in which nothing opens are left out. */
export function untilOpen(openings: readonly StateOpening[]): string {
  const groups = new Map<string, BlockedState[]>();
  for (const { state, opening } of openings) {
    if (opening.device === 'none') continue;
    const soon = Number.isNaN(opening.time)
      ? `, how soon is not said (${properties[opening.device]})`
      : ` after ${show(opening.time, dimensions.time)}`;
    const words = `${devices[opening.device]}${soon}`;
    groups.set(words, [...(groups.get(words) ?? []), state]);
  }
  const alike = groups.size === 1 && openings.every(({ opening }) => opening.device !== 'none');
  return [...groups].map(([words, states]) => (alike ? words : `${words} ${inStates(states)}`)).join(', ');
}
