import { expect, test } from '@jest/globals';
import fc from 'fast-check';
import { Channel } from '../../apps/api/src/channels/channel.entity.js';
import type { ProvenChannel } from '../../apps/api/src/inspection-proof/channel-proof.js';
import { doubtsOf } from '../../apps/api/src/inspection-proof/failed-checks.js';
import { InspectionRun } from '../../apps/api/src/inspection-runs/inspection-run.entity.js';
import { ReferenceCheck } from '../../apps/api/src/reference-checks/reference-check.entity.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { ASKED, checkOf, history, MILLIMETRES, runOf } from './reference-checks.arbitraries.js';
import { type PlainCheck, type PlainLook, type PlainRun, provePlainly } from './reference-checks.reference.js';

const RUNS = 1_000;

const proven = (runs: readonly PlainRun[], checks: readonly PlainCheck[], repeats: 'best' | 'latest'): ProvenChannel => ({
  known: { channel: Object.assign(new Channel(), { id: 'channel', repeats }), tracks: [], runs: [], marks: [], checks: [], setups: [] },
  runs: runs.map((run) => ({ ...runOf(run), row: Object.assign(new InspectionRun(), { id: run.id }) })),
  checks: checks.map((check) => ({ ...checkOf(check), row: Object.assign(new ReferenceCheck(), { id: check.id, observedAt: String(check.at + 10).padStart(2, '0') }) })),
});

/** The failed checks that a look is in doubt for, with their side: on from the look through all that failed; back from it only where what follows passed. */
function doubted({ state, before, after }: PlainLook, checks: readonly PlainCheck[]): string[] {
  if (state !== 'suspect') return [];
  const failedOf = (ids: readonly string[]): string[] => checks.filter(({ id, outcome }) => ids.includes(id) && outcome === 'failed').map(({ id }) => id);
  if (failedOf(after).length === 0) return failedOf(before).map((id) => `${id} after`);
  const instants = [...new Set(checks.filter(({ outcome }) => outcome !== 'void').map(({ at }) => at))].sort((one, other) => one - other);
  const found: string[] = [];
  for (const instant of instants.filter((at) => at >= Math.min(...checks.filter(({ id }) => after.includes(id)).map(({ at: own }) => own)))) {
    const failed = checks.filter(({ at, outcome }) => at === instant && outcome === 'failed').map(({ id }) => id);
    if (failed.length === 0) break;
    found.push(...failed.map((id) => `${id} before`));
  }
  return found;
}

test('what failed checks make suspect is what a walk along the pipe finds, check by check and millimetre by millimetre', () => {
  const met = { before: 0, after: 0, several: 0, otherwise: 0 };
  fc.assert(fc.property(history, ({ ran, made, madeShuffled, rule }) => {
    for (const checks of [made, madeShuffled]) {
      const told = doubtsOf([proven(ran, checks, rule)], ASKED);
      for (const mm of MILLIMETRES) {
        const { state, counts } = provePlainly(mm, ran, made, rule);
        const expected = counts === null ? [] : doubted(counts, made);
        expect(told.filter(({ footage }) => footage.contains(mm)).map(({ check, side }) => `${check.id} ${side}`).sort()).toEqual(expected.sort());
        met.before += expected.some((one) => one.endsWith('before')) ? 1 : 0;
        met.after += expected.some((one) => one.endsWith('after')) ? 1 : 0;
        met.several += expected.length > 1 ? 1 : 0;
        met.otherwise += state === 'suspect' && expected.length === 0 ? 1 : 0;
      }
    }
  }), { ...seedFromEnvironment(), numRuns: RUNS });
  process.stdout.write(`millimetres in doubt: ${JSON.stringify(met)}\n`);
  for (const count of Object.values(met)) expect(count).toBeGreaterThan(300);
});
