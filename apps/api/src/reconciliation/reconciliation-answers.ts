import {
  COVERAGE_FACTOR, elongationOf, roundMm, type LengthSum, type Residual, type SumDifference, type TieReportLine,
} from '#libs/length';
import { instantOf } from '#libs/persistence';
import type { Coil } from '../coils/coil.entity.js';
import { MOST_LINKS } from '../recall/link-list.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { linkTo } from '../trace/record-link.js';
import type { CounterComparison, Parting } from './counter-comparison.js';
import type {
  CounterComparisonAnswer, DifferenceAnswer, PartingAnswer, ResidualAnswer, SegmentElongation, StripUseAnswer, SumAnswer,
  TieReportAnswer,
} from './reconciliation.dto.js';
import type { StripUse } from './strip-use.js';

/** What people call the record with this id. */
export type Labels = (id: string) => string;

const plusMinus = (uMm: number): number => Math.ceil(COVERAGE_FACTOR * uMm);

export function sumAnswer({ name, mm, uMm, parts }: LengthSum, labels: Labels): SumAnswer {
  return {
    name,
    mm: roundMm(mm),
    plusMinusMm: plusMinus(uMm),
    parts: parts.map(({ name: part, mm: partMm, record }) => ({
      name: record?.kind === 'coil' ? `coil ${labels(record.id)}` : part,
      mm: roundMm(partMm),
      record: record === undefined ? null : refLink(record, labels),
    })),
  };
}

export function refLink({ kind, id, version }: Omit<RecordLink, 'label'>, labels: Labels): RecordLink {
  return { kind, id, version, label: labels(id) };
}

export function differenceAnswer({ of, less, mm, uMm, isExceeded, likelyCauses }: SumDifference): DifferenceAnswer {
  const whole = roundMm(mm);
  return { of, less, mm: whole, m: whole / 1000, plusMinusMm: plusMinus(uMm), exceeded: isExceeded, likelyCauses: [...likelyCauses] };
}

export function stripAnswer(use: StripUse, coil: Coil): StripUseAnswer {
  const { known, cropMm, restMm, onOtherStringsMm, notYetFormedMm, consumedMm } = use;
  return {
    coil: linkTo('coil', coil, coil.number),
    lengthMm: roundMm(known.mm),
    lengthPlusMinusMm: plusMinus(known.uMm),
    basis: known.basis,
    cropMm,
    restMm,
    onOtherStringsMm,
    notYetFormedMm: roundMm(notYetFormedMm),
    consumedMm: roundMm(consumedMm),
  };
}

export function elongationAnswer(segment: CoilSegmentVersion, coilNumber: string): SegmentElongation {
  const { span, stripSpan, runs, id, version } = segment;
  const record = { kind: 'coil-segment', id, version };
  const { ratio, isSuspect } = elongationOf({ record, footage: span, strip: stripSpan, runs });
  return {
    segment: linkTo('coil-segment', segment, coilNumber),
    footage: { fromMm: span.fromMm, toMm: span.toMm },
    strip: { fromMm: stripSpan.fromMm, toMm: stripSpan.toMm },
    elongation: ratio,
    suspect: isSuspect,
  };
}

export function tieAnswer(line: TieReportLine, labels: Labels): TieReportAnswer {
  return {
    tie: refLink(line.record, labels),
    at: instantOf(line.atUs),
    netMm: roundMm(line.netMm),
    mdMm: roundMm(line.mdMm),
    used: line.isUsed,
    localLambda: line.localLambda,
    reconciliation: residualAnswer(line.reconciliation),
    againstLine: line.againstLine === null ? null : residualAnswer(line.againstLine),
    againstNeighbours: line.againstNeighbours === null ? null : residualAnswer(line.againstNeighbours),
    suspect: line.isSuspect,
  };
}

function residualAnswer({ mm, uMm, isExceeded }: Residual): ResidualAnswer {
  return { mm: roundMm(mm), plusMinusMm: plusMinus(uMm), exceeded: isExceeded };
}

export function comparisonAnswer(counter: string, { overall, steps }: CounterComparison): CounterComparisonAnswer {
  const exceeded = steps.filter(({ isExceeded }) => isExceeded);
  return {
    counter,
    overall: overall === null ? null : partingAnswer(overall),
    steps: steps.length,
    exceededTotal: exceeded.length,
    exceededSteps: exceeded.slice(0, MOST_LINKS).map(partingAnswer),
  };
}

function partingAnswer(parting: Parting): PartingAnswer {
  return {
    from: instantOf(parting.fromUs),
    to: instantOf(parting.toUs),
    masterMm: roundMm(parting.masterMm),
    otherMm: roundMm(parting.otherMm),
    differenceMm: roundMm(parting.differenceMm),
    plusMinusMm: plusMinus(parting.uMm),
    per100MMm: parting.per100MMm === null ? null : Math.round(parting.per100MMm * 10) / 10,
    exceeded: parting.isExceeded,
  };
}
