import { expect } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { TEST_PASSWORD, type Answer, type SignedIn } from '../setup/api.js';
import { at, type Fields } from './line.factory.js';

/** An item of a control plan that is whole but for what a test changes. */
export const item = (code: string, demands: string, changes: Fields = {}): Fields => ({
  code, clause: '5.1', demands, at: 'pipe', marginMm: null, exceptAt: [], channelId: null, characteristic: null, reachMm: null, test: null, point: null, ...changes,
});

export const plan = (stringId: string, items: readonly Fields[], changes: Fields = {}): Fields => ({
  stringId, observedAt: at('05:15'), document: 'Control plan LM-2', revision: '1', fromMm: 0, items, note: null, ...changes,
});

interface Stretch { readonly fromMm: number; readonly toMm: number; readonly state: string; readonly late: boolean; readonly by: readonly number[] }

/** What the tests read of the answer about evidence. */
export interface EvidenceBody extends Fields {
  readonly pipe: { readonly lengthMm: number };
  readonly states: readonly { readonly state: string; readonly metres: { readonly lengthMm: number } }[];
  readonly verdict: readonly (Stretch & { readonly items: readonly string[] })[];
  readonly items: readonly (Fields & { readonly code: string; readonly stretches: readonly Stretch[]; readonly testimonies: readonly (Fields & { readonly because: string; readonly records: readonly Fields[] })[] })[];
  readonly walls: readonly { readonly wall: string; readonly stretches: readonly Fields[] }[];
  readonly withoutPlanMm: number;
  readonly cautions: readonly string[];
}

export async function evidenceOf({ send }: SignedIn, stringId: string, query = ''): Promise<EvidenceBody> {
  const answer = await send<EvidenceBody>('GET', `/api/casing-strings/${stringId}/evidence${query}`);
  expect(answer).toMatchObject({ status: 200 });
  return answer.body;
}

/** `confirmed 0-5000, missing 5000-9000 late`, in order of footage. */
export const told = (stretches: readonly Stretch[] | undefined): string =>
  (stretches ?? []).map(({ fromMm, toMm, state, late }) => `${state} ${fromMm}-${toMm}${late ? ' late' : ''}`).join(', ');

/** What an item comes to. */
export const line = ({ items }: EvidenceBody, code: string): string => told(items.find((one) => one.code === code)?.stretches);

/** Signs a release of what is proposed, with a reason for all that needs one. */
export async function release(signer: SignedIn, stringId: string, [fromMm, toMm]: readonly [number, number], changes: Fields = {}): Promise<Answer> {
  const proposal = await signer.send<Fields & { readonly toExcept: readonly { readonly code: string }[]; readonly ownWorkRecords: number }>(
    'GET', `/api/casing-strings/${stringId}/release-proposal?fromM=${fromMm / 1000}&toM=${toMm / 1000}`,
  );
  expect(proposal).toMatchObject({ status: 200 });
  const { evidenceSha256, toExcept, ownWorkRecords } = proposal.body;
  return signer.send('POST', '/api/releases', {
    body: {
      id: uuidv7(), stringId, fromMm, toMm, evidenceSha256, exceptions: toExcept.map(({ code }) => ({ code, because: 'Looked at on the spot' })),
      ownWorkBecause: ownWorkRecords > 0 ? 'Nobody else is on shift' : null, grounds: 'All items looked at', secret: TEST_PASSWORD, ...changes,
    },
  });
}
