// Agreed deviations: an acceptance turns one finding into a note, as far as its bound and until its date.
import type { AcceptanceView } from '../analysis.ts';
import type { Finding } from '../finding.ts';
import type { Acceptance, Plant } from '../model/plant.ts';
import { resultDimension } from '../results/index.ts';
import { assignable, describe } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import type { Code } from './codes.ts';
import { checks } from './index.ts';
import { listed } from './not-checked.ts';

/** Errors beside which values are unknown, and findings missing for that reason alone. */
const leavingOpen: readonly Code[] = ['missing_fact', 'impossible_value'];

/**
 * `today` as `2026-11-25`; without it nothing expires. Where the text has a mistake (`flawed`), findings may be missing
 * for that reason alone, and no acceptance is called unused.
 */
export function applyAcceptances(
  plant: Plant,
  findings: readonly Finding[],
  today: string | undefined,
  flawed: boolean,
): readonly Finding[] {
  const open = flawed || findings.some(({ code, severity }) => severity === 'error' && leavingOpen.includes(code));
  const used = new Set<Acceptance>();
  const misfits: Finding[] = [];
  const result = findings.map(finding => {
    // Of hazards and of mistakes in the text there can be no acceptance: the model has refused it.
    if (finding.hazard || finding.severity === 'note' || finding.severity === 'hint') return finding;
    const candidates = plant.acceptances.filter(
      candidate => candidate.code === finding.code && candidate.tag === finding.subject,
    );
    const acceptance =
      candidates.find(candidate => !expired(candidate, today) && withinBound(candidate, finding)) ?? candidates[0];
    if (acceptance === undefined) return finding;
    used.add(acceptance);
    if (expired(acceptance, today))
      return {
        ...finding,
        related: [...finding.related, { place: acceptance.place, message: `Was accepted until ${acceptance.until}.` }],
      };
    const misfit = boundMisfit(plant, acceptance, finding);
    if (misfit !== undefined) {
      misfits.push(misfit);
      return finding;
    }
    if (!withinBound(acceptance, finding)) {
      const bound = show(acceptance.bound!.value, acceptance.bound!.dimension);
      return {
        ...finding,
        related: [
          ...finding.related,
          { place: acceptance.place, message: `Accepted ${acceptance.bound!.direction} to ${bound} only.` },
        ],
      };
    }
    return accepted(finding, acceptance);
  });
  return [
    ...result,
    ...misfits,
    ...plant.acceptances.flatMap(acceptance => {
      if (expired(acceptance, today)) return [remarkExpired(acceptance)];
      const needed = open || used.has(acceptance) || acceptance.doubtful || givenWay(plant, acceptance, findings);
      return needed ? [] : [remarkUnused(acceptance, elsewhere(plant, acceptance, findings))];
    }),
  ];
}

/** Each acceptance with what has become of it; `findings` as `applyAcceptances` leaves them. */
export function acceptanceViews(
  plant: Plant,
  findings: readonly Finding[],
  today: string | undefined,
): readonly AcceptanceView[] {
  return plant.acceptances.map(acceptance => {
    const { code, tag, bound, until, because, place } = acceptance;
    return {
      code,
      subject: tag,
      bound: bound && `${bound.direction} to ${show(bound.value, bound.dimension)}`,
      until,
      because,
      place,
      state: stateOf(plant, acceptance, findings, today),
    };
  });
}

function stateOf(plant: Plant, acceptance: Acceptance, findings: readonly Finding[], today: string | undefined) {
  if (expired(acceptance, today)) return 'expired';
  if (findings.some(finding => finding.accepted?.place === acceptance.place)) return 'in force';
  const { code, tag } = acceptance;
  const stands = findings.some(finding => finding.code === code && finding.subject === tag);
  return stands || givenWay(plant, acceptance, findings) ? 'exceeded' : 'unused';
}

/** The finding is silent beside a worse one, of its component or of the converter before it: with that mended it may be back. */
function givenWay({ topology }: Plant, { code, tag }: Acceptance, findings: readonly Finding[]): boolean {
  const worse = checks.find(check => check.code === code)?.givesWayTo;
  if (worse === undefined) return false;
  const routes = topology.routes.filter(({ batteries }) => batteries.includes(tag));
  const concerned = new Set<string | undefined>([tag, ...routes.map(({ converter }) => converter)]);
  return findings.some(
    ({ code: own, accepted, subject }) => worse.includes(accepted?.code ?? own) && concerned.has(subject),
  );
}

/** Components with that finding that nobody has accepted: a wrong tag is soon written. */
function elsewhere({ acceptances }: Plant, { code }: Acceptance, findings: readonly Finding[]): readonly string[] {
  const agreed = new Set(acceptances.filter(each => each.code === code).map(({ tag }) => tag));
  const tags = findings.flatMap(({ code: own, subject }) => (own === code && subject !== undefined ? [subject] : []));
  return [...new Set(tags)].filter(tag => !agreed.has(tag));
}

function accepted(finding: Finding, acceptance: Acceptance): Finding {
  const until = acceptance.until === undefined ? '' : ` until ${acceptance.until}`;
  const because = acceptance.because === undefined ? '' : `, because: ${acceptance.because}`;
  return {
    ...finding,
    code: 'accepted',
    severity: 'note',
    message: `Accepted (\`${finding.code}\`)${until}${because}. ${finding.message}`,
    related: [...finding.related, { place: acceptance.place, message: 'Accepted here.' }],
    fixes: [],
    accepted: {
      code: finding.code,
      severity: finding.severity,
      message: finding.message,
      until: acceptance.until,
      because: acceptance.because,
      place: acceptance.place,
    },
  };
}

function withinBound({ bound }: Acceptance, finding: Finding): boolean {
  if (bound === undefined) return true;
  const value = finding.value?.number;
  if (value === undefined) return false;
  const slack = 1e-9 * Math.abs(bound.value);
  return bound.direction === 'up' ? value <= bound.value + slack : value >= bound.value - slack;
}

/** A bound of another dimension than the value that the finding reports bounds nothing. */
function boundMisfit(plant: Plant, { bound, code, tag }: Acceptance, { value }: Finding): Finding | undefined {
  const [subject = '', name = ''] = value?.name?.split('.') ?? [];
  const kind = plant.byTag.get(subject)?.kind.name;
  const dimension = kind === undefined ? undefined : resultDimension(kind, name);
  if (bound === undefined || dimension === undefined || assignable(bound.dimension, dimension)) return undefined;
  return {
    code: 'wrong_dimension',
    severity: 'error',
    hazard: false,
    subject: tag,
    message: `This bound is ${describe(bound.dimension)}; what \`${code}\` on ${tag} reports is ${describe(dimension)}: ${value!.display}.`,
    place: bound.place,
    related: [],
    value: undefined,
    limit: undefined,
    point: undefined,
    source: undefined,
    fixes: [],
  };
}

function expired({ until }: Acceptance, today: string | undefined): boolean {
  return until !== undefined && today !== undefined && until < today;
}

function remarkExpired(acceptance: Acceptance): Finding {
  const message = `This acceptance ran out on ${acceptance.until}: agree on it again, or mend what it accepted.`;
  return remark(acceptance, 'acceptance_expired', message);
}

/** `others`: components that have such a finding. */
function remarkUnused(acceptance: Acceptance, others: readonly string[]): Finding {
  const { code, tag } = acceptance;
  const instead =
    others.length === 0
      ? 'to accept any more: remove this line'
      : `to accept, but one on ${listed(others)}: name that, or remove this line`;
  return remark(acceptance, 'acceptance_unused', `There is no finding \`${code}\` on ${tag} ${instead}.`);
}

/** An acceptance that ran out, or that meets no finding, is a finding itself. */
function remark(acceptance: Acceptance, code: Code, message: string): Finding {
  return {
    code,
    severity: 'warning',
    message,
    hazard: false,
    subject: acceptance.tag,
    place: acceptance.place,
    related: [],
    value: undefined,
    limit: undefined,
    point: undefined,
    source: undefined,
    fixes: [{ title: 'Remove the acceptance', safe: false, edits: [{ place: acceptance.place, text: '' }] }],
  };
}
