import { v7 as uuidv7 } from 'uuid';
import { inTransaction } from '#libs/persistence';
import { ChartLimitsRows } from '../../apps/api/src/chart-limits/chart-limits-rows.service.js';
import type { SignedIn, TestApi } from './api.js';
import { studied } from './record-rows.js';
import { another } from './row-trials.js';

const actorOf = ({ personId }: SignedIn) => ({ personId, via: 'test', requestId: uuidv7(), deviceId: null });

/** Limits of a chart of the kind ewma, signed by an engineer, whatever readings there are. Gives their id. */
export async function signedLimits({ app, owner, dataSource }: TestApi, signer: SignedIn, stringId: string, chartId: string): Promise<string> {
  const [id, actor, { personId }] = [uuidv7(), actorOf(signer), signer];
  const [person]: { name: string }[] = await owner.query('select name from person where id = $1 and known_until is null', [personId]);
  await inTransaction(dataSource, actor, null, async (tx) => another(tx.manager, 'chart_limits', 1, {
    ...studied({ chart: { id: chartId, version: 1 } }), id, string_id: stringId, number: String(await app.get(ChartLimitsRows).nextNumber(tx, chartId)), known_from: tx.knownAt, entered_at: tx.knownAt,
    done_by: personId, keyed_by: personId, device_id: null, reason: null, signer_name: person?.name, request_id: actor.requestId,
  }));
  return id;
}

/** Withdraws limits. Gives their id. */
export async function withdrawnLimits({ app, dataSource }: TestApi, by: SignedIn, id: string): Promise<string> {
  const rows = app.get(ChartLimitsRows);
  await inTransaction(dataSource, actorOf(by), null, async (tx) => {
    const row = await rows.find(id, null, tx.manager);
    if (row === null) throw new Error(`no limits ${id}`);
    await rows.withdraw(tx, row, 'Of the wrong pipe');
  });
  return id;
}
