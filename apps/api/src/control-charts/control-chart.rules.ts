import { CHART_FAMILIES, CHART_KINDS, type ChartKind, type PointFamily } from '#libs/charting';
import { compare, decimal } from '#libs/exact';
import type { FieldProblem } from '../http/problem.js';
import { CHECKED } from '../incoming-checks/incoming-check.dto.js';
import { MEASURED_OF_SPLICE } from '../splice-steps/splice-step.dto.js';
import type { Characteristic, ChartedCharacteristic, ChartSpecification } from './control-chart-plan.js';
import type { ChartedCharacteristicPart, ChartSpecificationPart, ControlChartInput } from './control-chart.dto.js';
import type { ControlChart } from './control-chart.entity.js';

type ChartParts = Pick<ControlChartInput, 'characteristic' | 'unit' | 'subgroup' | 'chart' | 'rules' | 'lambda' | 'width' | 'k' | 'h' | 'batchSize' | 'alpha' | 'specification'>;

/** A chart as people name it. */
export const chartLabel = ({ code, title }: Pick<ControlChart, 'code' | 'title'>): string => `${code}: ${title}`;

/** What is charted, as a column. */
export function charted({ of, name, channelIds, statistic, reflector, counters, windowMm }: ChartedCharacteristicPart): ChartedCharacteristic {
  return {
    of, name: name ?? null, channelIds: channelIds ?? [], statistic: statistic ?? null, reflector: reflector ?? null, counters: counters ?? [], windowMm: windowMm ?? null,
  };
}

/** The specification limits, as a column. */
export const specified = ({ lower, upper, target, source }: ChartSpecificationPart): ChartSpecification =>
  ({ lower: lower ?? null, upper: upper ?? null, target: target ?? null, source });

/** What contradicts itself in a chart, field by field. */
export function chartFaults(chart: ChartParts): FieldProblem[] {
  return [
    ...saidFaults(chart.characteristic), ...nameFaults(chart.characteristic), ...listFaults(chart), ...familyFaults(chart), ...unitFaults(chart), ...subgroupFaults(chart),
    ...ruleFaults(chart), ...tuningFaults(chart), ...specificationFaults(chart),
  ];
}

/** What a characteristic can say beside what it is, in words. */
const SAYS = {
  name: 'what was measured, by its name', channelIds: 'the channel', statistic: 'what of the samples makes the reading', reflector: 'the reflector',
  counters: 'two counters', windowMm: 'a length of pipe',
} as const;
type Said = keyof typeof SAYS;

interface Saying {
  readonly needs: readonly Said[];
  readonly may?: readonly Said[];
  /** What its points can be. */
  readonly families: readonly PointFamily[];
}

const AS_READ = ['subgroups', 'values'] as const;

const SAYINGS: Readonly<Record<Characteristic, Saying>> = {
  inspected: { needs: ['name'], families: AS_READ },
  'rejected-inspections': { needs: ['name', 'windowMm'], families: ['shares'] },
  'splice-reading': { needs: ['name'], families: AS_READ },
  'coil-reading': { needs: ['name'], families: AS_READ },
  channel: { needs: ['channelIds', 'statistic', 'windowMm'], families: [...AS_READ, 'vectors'] },
  'reference-amplitude': { needs: ['channelIds', 'reflector'], families: AS_READ },
  'counter-ratio': { needs: ['counters', 'windowMm'], families: AS_READ },
  'between-indications': { needs: [], may: ['channelIds'], families: ['gaps'] },
  indications: { needs: ['windowMm'], may: ['channelIds'], families: ['rates'] },
  repairs: { needs: ['windowMm'], families: ['rates'] },
};

function saidFaults(characteristic: ChartedCharacteristicPart): FieldProblem[] {
  const { needs, may = [] } = SAYINGS[characteristic.of];
  return (Object.keys(SAYS) as Said[]).flatMap((name) => {
    const value = characteristic[name] ?? null;
    const isSaid = value !== null && !(Array.isArray(value) && value.length === 0);
    const isRight = isSaid ? needs.includes(name) || may.includes(name) : !needs.includes(name);
    return isRight ? [] : [{ field: `characteristic.${name}`, value, limit: isSaid ? `none of ${characteristic.of}` : `${SAYS[name]}, of ${characteristic.of}` }];
  });
}

/** Names that are a closed list in the records which the readings come from. */
const CLOSED_NAMES: Partial<Readonly<Record<Characteristic, readonly string[]>>> = { 'splice-reading': MEASURED_OF_SPLICE, 'coil-reading': CHECKED };

function nameFaults({ of, name }: ChartedCharacteristicPart): FieldProblem[] {
  const names = CLOSED_NAMES[of];
  if (names === undefined || name == null || names.includes(name)) return [];
  return [{ field: 'characteristic.name', value: name, limit: `one of ${names.join(', ')}` }];
}

/** How many channels a chart takes where it takes any, and how many counters. */
function listFaults({ chart, characteristic }: ChartParts): FieldProblem[] {
  const { of } = characteristic;
  const [channelIds, counters] = [characteristic.channelIds ?? [], characteristic.counters ?? []];
  const isVector = of === 'channel' && CHART_FAMILIES[chart] === 'vectors';
  const isOne = !isVector && (of === 'channel' || of === 'reference-amplitude');
  const isCounted = channelIds.length === 0 || (isVector ? channelIds.length >= 2 && channelIds.length <= 12 : !isOne || channelIds.length === 1);
  return [
    ...(isCounted ? [] : [{ field: 'characteristic.channelIds', value: channelIds, limit: isVector ? '2 to 12 channels' : 'one channel' }]),
    ...twice(channelIds, 'characteristic.channelIds', 'channel'),
    ...(of === 'counter-ratio' && counters.length === 1 ? [{ field: 'characteristic.counters', value: counters, limit: SAYS.counters }] : []),
    ...twice(counters, 'characteristic.counters', 'counter'),
  ];
}

const twice = (all: readonly string[], field: string, what: string): FieldProblem[] =>
  all.flatMap((value, index) => (all.indexOf(value) < index ? [{ field: `${field}[${index}]`, value, limit: `each ${what} once` }] : []));

function familyFaults({ chart, characteristic: { of } }: ChartParts): FieldProblem[] {
  const { families } = SAYINGS[of];
  if (families.includes(CHART_FAMILIES[chart])) return [];
  return [{ field: 'chart', value: chart, limit: `a chart that goes with ${of}: ${CHART_KINDS.filter((kind) => families.includes(CHART_FAMILIES[kind])).join(', ')}` }];
}

/** What is counted or divided comes in one unit, whatever people call it; what was read is converted. */
const UNIT_OF: Partial<Readonly<Record<Characteristic, string>>> = { 'rejected-inspections': '1', 'counter-ratio': '1', 'between-indications': 'm', indications: '1/m', repairs: '1/km' };

function unitFaults({ chart, unit, characteristic: { of } }: ChartParts): FieldProblem[] {
  const only = chart === 'c' && UNIT_OF[of] !== undefined ? '1' : UNIT_OF[of];
  return only === undefined || unit === only ? [] : [{ field: 'unit', value: unit, limit: `${only}, of ${of} on a chart ${chart}` }];
}

/** Readings are put together for these alone. */
const isOfReadings = (chart: ChartKind): boolean => CHART_FAMILIES[chart] === 'subgroups' || CHART_FAMILIES[chart] === 'values';

/** Windows of pipe lie behind each other at the least: the last of a subgroup cannot begin nearer to the first. */
function leastWithinMm({ of, windowMm }: ChartedCharacteristicPart, size: number): number {
  return of === 'channel' || of === 'counter-ratio' ? (size - 1) * (windowMm ?? 0) : 0;
}

function subgroupFaults({ chart, subgroup, characteristic }: ChartParts): FieldProblem[] {
  if (subgroup == null) return isOfReadings(chart) ? [{ field: 'subgroup', value: null, limit: `how readings are put together, of ${chart}` }] : [];
  if (!isOfReadings(chart)) return [{ field: 'subgroup', value: subgroup, limit: `none of ${chart}, whose points are not put together` }];
  const { size, withinMm, everyMm } = subgroup;
  const isShort = size === 1 ? withinMm === 0 : withinMm < everyMm;
  const leastMm = leastWithinMm(characteristic, size);
  return [
    ...(size < 2 && CHART_FAMILIES[chart] === 'subgroups' ? [{ field: 'subgroup.size', value: size, limit: `at least 2 readings, of ${chart}` }] : []),
    ...(isShort ? [] : [{ field: 'subgroup.withinMm', value: withinMm, limit: size === 1 ? '0 where each reading is a point of its own' : `less than the ${everyMm} mm from one subgroup to the next` }]),
    ...(withinMm >= leastMm ? [] : [{ field: 'subgroup.withinMm', value: withinMm, limit: `at least ${leastMm} mm, which ${size} windows behind each other take` }]),
  ];
}

/** Charts that signal beyond their limits alone. */
const WITHOUT_RULES: ReadonlySet<ChartKind> = new Set(['ewma', 'cusum', 't', 'g', 't-squared']);

function ruleFaults({ chart, rules }: ChartParts): FieldProblem[] {
  if (WITHOUT_RULES.has(chart)) return rules.length === 0 ? [] : [{ field: 'rules', value: rules, limit: `none of ${chart}, which signals beyond its limits alone` }];
  return rules.length === 0 ? [{ field: 'rules', value: rules, limit: `at least one rule, of ${chart}` }] : twice(rules, 'rules', 'rule');
}

/** What one chart alone is tuned by. */
const TUNED_BY = [['lambda', 'ewma'], ['width', 'ewma'], ['k', 'cusum'], ['h', 'cusum'], ['batchSize', 'batch-means'], ['alpha', 't-squared']] as const;

function tuningFaults(chart: ChartParts): FieldProblem[] {
  return TUNED_BY.flatMap(([field, of]) => {
    const value = chart[field] ?? null;
    return (value !== null) === (chart.chart === of) ? [] : [{ field, value, limit: `of ${of}, and of no other chart` }];
  });
}

function specificationFaults({ chart, specification }: ChartParts): FieldProblem[] {
  if (specification == null) return [];
  if (!isOfReadings(chart)) return [{ field: 'specification', value: specification, limit: `none of ${chart}` }];
  const { lower, upper, target } = specified(specification);
  if (lower === null && upper === null) return [{ field: 'specification.lower', value: null, limit: 'a lower or an upper limit' }];
  const isAbove = (one: string | null, other: string | null): boolean => one !== null && other !== null && compare(decimal(one), decimal(other)) > 0;
  if (isAbove(lower, upper)) return [{ field: 'specification.upper', value: upper, limit: `at least the lower limit, ${lower}` }];
  return isAbove(lower, target) || isAbove(target, upper) ? [{ field: 'specification.target', value: target, limit: 'within the limits' }] : [];
}
