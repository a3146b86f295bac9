import { matchEvaluated } from '#libs/indications';
import type { Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Indication } from '../indications/indication.entity.js';
import type { RuleChannel } from '../indication-rules/indication-rule.entity.js';
import type { FoundPart, FoundPlace, SawStroke, SettledPlace } from './found-place.js';

/** An indication that stands, whoever opened it. */
export interface Standing extends Pick<Indication, 'id' | 'channelIds' | 'span'> {
  /** When the evaluation that settled it was made; null while nothing does. */
  readonly settledAt: string | null;
}

/**
 * Each place found beside the indications that stand. A new one is opened, under a new id, unless those that name a channel cover
 * all that the channel shows: what has grown beyond them, by however little, is told anew, as a whole, and never changes them. One
 * that was settled covers nothing that was read afterwards: whoever evaluated it had not seen that, and it may be of a repair.
 * @param saw the strokes that the parts are of @param channelIds those of the rule, in its order
 */
export function settled(
  found: readonly FoundPlace[], saw: readonly Pick<SawStroke, 'startedAt'>[], standing: readonly Standing[], channelIds: readonly string[], newId: () => string,
): SettledPlace[] {
  const near = new Neighbours(standing);
  return found.map((place) => {
    const beside = place.parts.map((part) => near.of(channelIds[part.channel] ?? '', part, saw[part.stroke]?.startedAt ?? null));
    const ids = [...new Set(beside.flatMap(({ ids: own }) => own))];
    return { ...place, standing: ids, indicationId: beside.every(({ isCovered }) => isCovered) ? null : newId() };
  });
}

interface StandingPlace extends Interval {
  readonly id: string;
  readonly settledUs: number;
}

/** Standing indications by channel and footage. */
class Neighbours {
  private readonly byChannel = new Map<string, { readonly sorted: StandingPlace[]; readonly reachMm: number[] }>();

  constructor(standing: readonly Standing[]) {
    for (const { id, channelIds, span, settledAt } of [...standing].sort((a, b) => a.span.fromMm - b.span.fromMm)) {
      const settledUs = settledAt === null ? Infinity : microseconds(settledAt);
      for (const channelId of new Set(channelIds)) this.add(channelId, { id, settledUs, ...span });
    }
  }

  /** Those of a channel that share pipe with a part, and whether they cover it as it was read from a time on. */
  of(channelId: string, part: Interval, readFrom: string | null): { ids: string[]; isCovered: boolean } {
    const { sorted, reachMm } = this.byChannel.get(channelId) ?? { sorted: [], reachMm: [] };
    const near: StandingPlace[] = [];
    for (let index = firstBeyond(reachMm, part.fromMm); index < sorted.length && (sorted[index] as StandingPlace).fromMm < part.toMm; index += 1) near.push(sorted[index] as StandingPlace);
    const readUs = readFrom === null ? -Infinity : microseconds(readFrom);
    const [all] = matchEvaluated(near, [part], 0).found;
    const [covering] = matchEvaluated(near.filter(({ settledUs }) => readUs <= settledUs), [part], 0).found;
    return { ids: all?.evaluated.map(({ id }) => id) ?? [], isCovered: covering?.notEvaluated.isEmpty ?? false };
  }

  private add(channelId: string, one: StandingPlace): void {
    const own = this.byChannel.get(channelId) ?? { sorted: [], reachMm: [] };
    this.byChannel.set(channelId, own);
    own.sorted.push(one);
    own.reachMm.push(Math.max(one.toMm, own.reachMm.at(-1) ?? 0));
  }
}

/** Index of the first number beyond another one, of numbers that never fall. */
function firstBeyond(numbers: readonly number[], other: number): number {
  let [low, high] = [0, numbers.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((numbers[middle] as number) > other) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The part of a place that lies farthest beyond its threshold, by its share of it: channels with other units have no other measure in common. */
export function worstPart(parts: readonly FoundPart[], channels: readonly Pick<RuleChannel, 'threshold'>[]): FoundPart | undefined {
  const shareOf = ({ channel, peak }: FoundPart): number => {
    const threshold = Number(channels[channel]?.threshold ?? 0);
    return Math.abs(Number(peak) - threshold) / (Math.abs(threshold) || 1);
  };
  return parts.reduce<FoundPart | undefined>((worst, part) => (worst === undefined || shareOf(part) > shareOf(worst) ? part : worst), undefined);
}
