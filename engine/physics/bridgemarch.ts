// Marches the diode bridge from one conduction state to the next, with each change of state located.
import {
  type BridgePoint,
  type BridgeState,
  type Network,
  none,
  rolesOf,
  type Stretch,
  type Triple,
} from './bridgecircuit.ts';

/** Told of each stretch of one conduction state. */
export type Visit = (at: Stretch['at'], from: number, to: number, conducting: boolean) => void;

export interface March {
  readonly currents: Triple;
  readonly behind: readonly Triple[];
  /** False where the states followed each other without end, or the DC side would be shorted by a leg. */
  readonly ok: boolean;
}

const scanStep = Math.PI / 60;
const currentNoise = 1e-14;
const voltageNoise = 1e-12;
const mostStretches = 600;
const mostChanges = 60;

/** Follows the bridge over a stretch of angle (rad) from given currents. Bounded; never throws. */
export function march(
  network: Network,
  start: Omit<BridgeState, 'roles'>,
  from: number,
  to: number,
  visit?: Visit,
): March {
  let state = stateOf(start);
  let angle = from;
  let changes = 0;
  let changed = true;
  for (let count = 0; count < mostStretches && changes < mostChanges && angle < to; count++) {
    const stretch = network.solve(state, angle);
    const joined = changed ? joinedAt(state, stretch, angle) : undefined;
    if (joined !== undefined) {
      state = joined;
      changes++;
      continue;
    }
    const end = endOf(state, stretch, angle, Math.min(to, stretch.until));
    if (end.angle > angle) visit?.(stretch.at, angle, end.angle, carrying(state) > 0);
    const { point } = end;
    if (end.over && point.dcVoltage < -network.circuit.drop - voltageNoise) return { ...point, ok: false };
    if (end.over) changes++;
    const next = end.over ? after(state, point) : carriedOn(state, stretch, end, to);
    changed = next.roles !== state.roles;
    state = next;
    angle = end.angle;
  }
  return { currents: state.currents, behind: state.behind, ok: angle >= to };
}

/** Conduction from bare currents: the sign says which diode carries. */
function stateOf(start: Omit<BridgeState, 'roles'>): BridgeState {
  const role = (current: number) => (Math.abs(current) <= currentNoise ? 0 : Math.sign(current));
  const [a, b, c] = start.currents;
  const state: BridgeState = { ...start, roles: [role(a), role(b), role(c)] };
  return carrying(state) < 2 ? { ...state, currents: none, roles: none } : state;
}

function carrying(state: BridgeState): number {
  return state.roles.filter(role => role !== 0).length;
}

/** With two phases carrying: whether a diode of the third is forward already. */
function joinedAt(state: BridgeState, stretch: Stretch, angle: number): BridgeState | undefined {
  if (carrying(state) !== 2) return undefined;
  const { room } = stretch.at(angle);
  const idle = state.roles.indexOf(0);
  if (room[1] < -voltageNoise) return { ...state, roles: withRole(state.roles, idle, 1) };
  if (room[2] < -voltageNoise) return { ...state, roles: withRole(state.roles, idle, -1) };
  return undefined;
}

interface End {
  readonly angle: number;
  readonly point: BridgePoint;
  /** Whether the conduction state ends here, rather than the stretch. */
  readonly over: boolean;
}

/** The end of a conduction state: the first angle at which a condition fails, to neighbouring numbers. */
function endOf(state: BridgeState, stretch: Stretch, from: number, to: number): End {
  const noise = carrying(state) === 3 ? currentNoise : voltageNoise;
  const steps = Math.max(4, Math.ceil((to - from) / scanStep - 1e-6));
  const width = (to - from) / steps;
  let older = stretch.at(from);
  let old = older;
  for (let step = 1; step <= steps; step++) {
    const angle = step === steps ? to : from + width * step;
    const point = stretch.at(angle);
    const dip = step > 1 ? hiddenDip(stretch, noise, angle - 2 * width, width, [older, old, point]) : undefined;
    const bad = dip ?? (failed(point, noise) ? angle : undefined);
    if (bad !== undefined) {
      const good = Math.max(from, bad === dip ? angle - 2 * width : angle - width);
      const edge = firstFailure(stretch, noise, good, bad);
      return { angle: edge, point: stretch.at(edge), over: true };
    }
    older = old;
    old = point;
  }
  return { angle: to, point: old, over: false };
}

/** Where a condition may fail for a moment between samples that all hold: the least of one that bends up near zero. */
function hiddenDip(
  stretch: Stretch,
  noise: number,
  start: number,
  width: number,
  samples: readonly [BridgePoint, BridgePoint, BridgePoint],
): number | undefined {
  for (const index of [0, 1, 2] as const) {
    const [a, b, c] = [samples[0].room[index], samples[1].room[index], samples[2].room[index]];
    const bend = a - 2 * b + c;
    const vertex = bend > 0 ? (a - c) / (2 * bend) : 2;
    const least = b - (vertex * (a - c)) / 4;
    if (Math.abs(vertex) > 1 || least > 0.5 * Math.min(a, b, c)) continue;
    const dip = leastOf(angle => stretch.at(angle).room[index], start, start + 2 * width);
    if (failed(stretch.at(dip), noise)) return dip;
  }
  return undefined;
}

/** Golden section. */
function leastOf(value: (angle: number) => number, from: number, to: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = from;
  let high = to;
  for (let round = 0; round < 24; round++) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (value(left) < value(right)) high = right;
    else low = left;
  }
  return (low + high) / 2;
}

/** Between an angle at which the conditions hold and one at which they fail: false position, every third step a halving. */
function firstFailure(stretch: Stretch, noise: number, from: number, to: number): number {
  let good = from;
  let bad = to;
  let goodRoom = leastRoom(stretch.at(good));
  let badRoom = leastRoom(stretch.at(bad));
  let side = 0;
  for (let step = 0; step < 120; step++) {
    const middle = (good + bad) / 2;
    if (middle <= good || middle >= bad) break;
    const guess = step % 3 === 0 ? middle : (good * badRoom - bad * goodRoom) / (badRoom - goodRoom);
    const angle = guess > good && guess < bad ? guess : middle;
    const point = stretch.at(angle);
    const room = leastRoom(point);
    if (failed(point, noise)) {
      bad = angle;
      badRoom = room;
      if (room > -10 * noise) break;
      if (side < 0) goodRoom /= 2;
      side = -1;
    } else {
      good = angle;
      goodRoom = room;
      if (side > 0) badRoom /= 2;
      side = 1;
    }
  }
  return bad;
}

function leastRoom(point: BridgePoint): number {
  return Math.min(point.room[0], point.room[1], point.room[2]);
}

function failed(point: BridgePoint, noise: number): boolean {
  return point.room[0] < -currentNoise || point.room[1] < -noise || point.room[2] < -noise;
}

/** The same state further on, or the one that takes over at the end of a stretch inside the march. */
function carriedOn(state: BridgeState, stretch: Stretch, end: End, to: number): BridgeState {
  const { currents, behind } = end.point;
  const roles = end.angle < to && end.angle >= stretch.until ? (stretch.next ?? state.roles) : state.roles;
  return { currents, behind, roles };
}

/** The state that follows a failed condition. */
function after(state: BridgeState, point: BridgePoint): BridgeState {
  const count = carrying(state);
  if (count === 0) return { currents: none, behind: point.behind, roles: rolesOf(point.outer) };
  if (count === 3) return withoutPhase(state, point);
  if (point.room[0] < -currentNoise) return { currents: none, behind: point.behind, roles: none };
  const role = point.room[1] < -voltageNoise ? 1 : -1;
  return { ...point, roles: withRole(state.roles, state.roles.indexOf(0), role) };
}

/** The phase whose current has run out drops out; the other two carry the same current. */
function withoutPhase(state: BridgeState, point: BridgePoint): BridgeState {
  const gone = point.room.indexOf(Math.min(...point.room));
  const roles = withRole(state.roles, gone, 0);
  const { dc, behind } = point;
  if (roles[0] + roles[1] + roles[2] !== 0 || !(dc > currentNoise)) return { currents: none, behind, roles: none };
  return { currents: [roles[0] * dc, roles[1] * dc, roles[2] * dc], behind, roles };
}

function withRole(roles: Triple, phase: number, role: number): Triple {
  const next: [number, number, number] = [...roles];
  next[phase] = role;
  return next;
}
