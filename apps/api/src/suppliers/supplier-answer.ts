import { decimalText, exactText, type Ratio } from '#libs/exact';
import { COIL_STATES } from '../standing/coil-standing.js';
import { linkTo } from '../trace/record-link.js';
import { askedValues, type AskedCharacteristic } from './asked-values.js';
import { distributionOf, type Distribution, type Point } from './distribution.js';
import { paperCounts } from './paper-counts.js';
import type { SupplierKnowledge } from './supplier-knowledge.js';
import type { SupplierQuestion } from './supplier-question.js';
import type {
  ExtremeValueAnswer, PaperCountsAnswer, PerformanceAnswer, SuppliedCharacteristicAnswer, SupplierViewAnswer,
} from './supplier-view.dto.js';

/** What is said with every supplier view (trade practice). */
export const SUPPLIER_CAUTIONS = [
  'Pp and Ppk are for independent values that are roughly normal. That the process is in control is not shown here, so they promise nothing of coils to come.',
  'Values of one heat, and several values of one coil, are not independent: where there are fewer heats than values, the interval of Ppk is too narrow.',
  'A value that is printed on several papers of a coil counts on each. Places and directions of samples are taken together.',
  'Certified values are as keyed from the papers; a corrected paper says that a keying was amended, and not whose slip it was.',
  'Carbon equivalents and sums that would have to be computed are not in it.',
];

/**
 * The answer to a question from what is known; the same knowledge always gives the same answer. It pauses at each yield,
 * since thousands of coils take seconds.
 */
export function* supplierAnswer(question: SupplierQuestion, knowledge: SupplierKnowledge): Generator<undefined, SupplierViewAnswer> {
  const { coils, isCapped, papers } = knowledge;
  const { mill, grade, thicknessMm, asKnownAt } = question;
  const { characteristics, notAskedForCount } = yield* askedValues(coils);
  const answered: SuppliedCharacteristicAnswer[] = [];
  for (const one of characteristics) {
    answered.push(characteristicAnswer(one, distributionOf(one)));
    yield;
  }
  return {
    asked: { mill, grade, thicknessMm, asKnownAt },
    coilCount: coils.length,
    isCapped,
    heatCount: new Set(coils.map(({ heat }) => heat.id)).size,
    orderCount: new Set(coils.map(({ order }) => order.id)).size,
    standings: COIL_STATES.map((state) => ({ state, coilCount: coils.filter((one) => one.state === state).length })),
    papers: papersAnswer(papers),
    characteristics: answered,
    notAskedForCount,
    cautions: [...cautionsAbout(coils.length, isCapped), ...SUPPLIER_CAUTIONS],
  };
}

function cautionsAbout(coilCount: number, isCapped: boolean): string[] {
  return [
    ...(isCapped ? [`There are more coils than were looked at: these are the ${coilCount} entered last.`] : []),
    ...(coilCount === 0 ? ['No coil on record is on such an order at this mill; the mill is looked for as orders spell it.'] : []),
  ];
}

function papersAnswer(papers: SupplierKnowledge['papers']): PaperCountsAnswer {
  const { certificates, keyed, verified, keyingsDiffered, corrected, withWithdrawnKeying, correctedShare } = paperCounts(papers);
  return {
    certificateCount: certificates, keyedCount: keyed, verifiedCount: verified, keyingsDifferedCount: keyingsDiffered,
    correctedCount: corrected, withWithdrawnKeyingCount: withWithdrawnKeying, correctedShare: shown(correctedShare),
  };
}

function characteristicAnswer({ name, requirement, origin }: AskedCharacteristic, found: Distribution): SuppliedCharacteristicAnswer {
  const { summary, quartiles, counts, capability } = found;
  return {
    name, unit: requirement.unit, origin, countedBy: found.countedBy,
    askedCoilCount: found.askedCoilCount, coilCount: found.coilCount, heatCount: found.heatCount, n: summary?.n ?? 0,
    mean: shown(summary?.mean ?? null), standardDeviation: shown(summary?.standardDeviation ?? null),
    least: extremeAnswer(found.least), lowerQuartile: shown(quartiles?.lower ?? null), median: shown(quartiles?.median ?? null),
    upperQuartile: shown(quartiles?.upper ?? null), greatest: extremeAnswer(found.greatest),
    histogram: found.classes.map(({ from, to, count }) => ({ from: valueText(from), to: valueText(to), count })),
    limits: found.limits.map(({ words, specifications, coilCount }) => ({ limits: words, specifications: [...specifications], coilCount })),
    outsideCount: counts.outside, censoredCount: counts.censored, censoredOutsideCount: counts.censoredOutside,
    unreadableCount: counts.unreadable, inDoubtCount: counts.inDoubt, otherConditionsCount: counts.otherConditions,
    differingHeatCount: counts.differingHeats,
    performance: 'noneBecause' in capability ? null : performanceAnswer(capability),
    noPerformanceBecause: 'noneBecause' in capability ? capability.noneBecause : null,
  };
}

function performanceAnswer({ pp, ppk, ppkInterval: { from, to } }: Exclude<Distribution['capability'], { noneBecause: string }>): PerformanceAnswer {
  return { pp: shown(pp), ppk: digits12(ppk), ppkFrom: digits12(from), ppkTo: digits12(to) };
}

function extremeAnswer(point: Point | null): ExtremeValueAnswer | null {
  if (point === null) return null;
  const { value, source, of: { coil, heat } } = point;
  return { value: valueText(value), coil: linkTo('coil', coil, coil.number), heat: linkTo('heat', heat, heat.number), source };
}

/** Beyond these a value that does not end, such as one converted from ksi, is rounded. */
const SHOWN_DECIMALS = 9;

function valueText(value: Ratio): string {
  const exact = exactText(value);
  return exact !== null && exact.length <= 40 ? exact : decimalText(value, SHOWN_DECIMALS, 'half-even');
}

/** Twelve digits: what floating point adds behind them is no result. */
const digits12 = (value: number): number => Number(value.toPrecision(12));

const shown = (value: number | null): number | null => (value === null ? null : digits12(value));
