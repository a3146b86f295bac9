import type { ChannelProof } from '../../inspection-proof/channel-proof.js';
import { CHANNELS, INSPECTION_RUNS, linkOf, REFERENCE_CHECKS } from '../../recall/record-kinds.js';
import type { Channel } from '../../channels/channel.entity.js';
import { testimonies, type OnTimeFrom, type RecordTestimony } from '../record-testimony.js';

type Look = NonNullable<ChannelProof['stretches'][number]['counts']>;

const BECAUSE: Readonly<Record<Look['bracket']['reason'], string>> = {
  'passed-before-and-after': 'inspected between two reference checks that passed',
  'none-after': 'inspected after a reference check that passed; none was made since',
  'failed-after': 'inspected before a reference check that failed',
  'failed-before': 'inspected after a reference check that failed, and before the next that passed',
  'none-before': 'inspected before any reference check was made',
};

/**
 * What reference checks prove of the pipe that a channel inspected. A closing check comes after the pipe has passed by nature:
 * late is what makes it provisional, the run and the check before it. Doubt is as late as the checks that put it there: who waived
 * the item before did not know of them.
 */
export function provenWords(channel: Channel, { stretches }: Pick<ChannelProof, 'stretches'>, onTimeFrom: OnTimeFrom): RecordTestimony[] {
  return stretches.flatMap(({ fromMm, toMm, state, counts }) => {
    if (state === 'missing' || counts === null) return [];
    const { run, bracket: { reason, before, after } } = counts;
    const word = {
      says: state, because: `${channel.name}: ${BECAUSE[reason]}`,
      records: [linkOf(CHANNELS, channel), linkOf(INSPECTION_RUNS, run.row), ...[...before, ...after].map(({ row }) => linkOf(REFERENCE_CHECKS, row))],
      enteredAt: [run.row.enteredAt, ...[...before, ...(state === 'suspect' ? after : [])].map(({ row }) => row.enteredAt)],
    };
    return testimonies({ fromMm, toMm }, word, onTimeFrom);
  });
}
