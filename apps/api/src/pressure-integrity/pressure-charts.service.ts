import { Injectable } from '@nestjs/common';
import { RATING_NAMES, type RatingName } from '#libs/ratings';
import { drawRatingChartSvg, formatInterval, ReportDataError, type RatingChart, type RatingChartReportData, type RatingPanel, type WeakestOnChart } from '#libs/reports';
import { Refused } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import { ReportPress } from '../reports/report-press.js';
import { pressureAnswer } from './pressure-answer.js';
import type { PressureIntegrityAnswer, WallPressureAnswer, WeakestAnswer } from './pressure-integrity.dto.js';
import { PressureProfiles, type PressureProfile } from './pressure-profiles.service.js';
import type { PressurePageQuestion } from './pressure-question.js';
import { RATING_WORDS } from './pressure-words.js';

/** Drawn: the two that tables of ratings print. The third is in the figures. */
const DRAWN: readonly RatingName[] = RATING_NAMES.filter((name) => name !== 'triaxialInternalYield');
const MOST_REASONS = 500;

/** Draws the ratings of both walls against depth. */
@Injectable()
export class PressureCharts {
  constructor(
    private readonly desk: RecordDesk,
    private readonly profiles: PressureProfiles,
    private readonly press: ReportPress,
  ) {}

  /** As SVG. Refuses as `PressureProfiles.of`, and with 422 where there is nothing to draw. */
  async svg(stringId: string, question: PressurePageQuestion): Promise<string> {
    const chart = chartOf(await this.profiles.of(stringId, question));
    try {
      return drawRatingChartSvg(chart);
    } catch (error) {
      if (error instanceof ReportDataError) throw new Refused(422, 'not-drawn', `The profile cannot be drawn: ${error.message}.`);
      throw error;
    }
  }

  /** As a PDF. Refuses as `svg`, and as the press does. */
  async pdf(stringId: string, question: PressurePageQuestion): Promise<Uint8Array> {
    const profile = await this.profiles.of(stringId, question);
    const { ground: { well }, model: { string }, knownAt } = profile;
    const content = { well: well.name, string: string.name, chart: chartOf(profile) };
    const data: RatingChartReportData = { ...content, dataCutOff: knownAt, generatedAt: await this.desk.databaseNow(), fingerprintSha256: digestOf(content) };
    return this.press.draw({ report: 'rating-chart', data, paper: question.paper });
  }
}

function chartOf(profile: PressureProfile): RatingChart {
  const answer = pressureAnswer(profile);
  const depths = answer.walls.flatMap(({ intervals }) => intervals.map(({ md }) => md));
  const [fromMm, toMm] = [Math.min(...depths.map((md) => md.fromMm)), Math.max(...depths.map((md) => md.toMm))];
  if (depths.length === 0 || fromMm >= toMm) throw new Refused(422, 'nothing-on-the-walls', 'Nothing of either wall is where it was asked about: there is nothing to draw.');
  const reasons = [...new Set(answer.walls.flatMap(({ intervals }) => intervals.flatMap((row) => DRAWN.flatMap((name) => row[name].because ?? []))))];
  if (reasons.length > MOST_REASONS) throw new Refused(422, 'not-drawn', `There are ${reasons.length} reasons why pipe is not rated: ask for less of it.`);
  const { string, knownAt, cautions, rules } = answer;
  return {
    titles: ['As-built pressure integrity, advisory', `${string.label}, well ${string.well.label}`], axis: { fromMm, toMm },
    depth: { datum: string.datum, uncertaintyMm: Math.max(...depths.map(({ plusMinusMm }) => plusMinusMm)) }, knownAt,
    panels: answer.walls.flatMap((wall) => DRAWN.map((name) => panelOf(wall, name, reasons))), reasons,
    cautions: [...new Set([...cautions, ...answer.walls.flatMap((wall) => wall.cautions), ...rules])],
  };
}

function panelOf({ wall, intervals, weakest }: WallPressureAnswer, name: RatingName, reasons: readonly string[]): RatingPanel {
  return {
    wall, rating: capital(RATING_WORDS[name]), weakest: weakestOf(weakest[name]),
    // What is less than a millimetre long cannot be drawn; the weakest is marked all the same.
    steps: intervals.filter(({ md }) => md.toMm > md.fromMm).map(({ md: { fromMm, toMm }, inputs: { lambda }, [name]: { pressureMpa, because } }) => ({
      fromMm, toMm, pressureMpa, isAssumed: pressureMpa !== null && lambda !== null && lambda.basis !== 'between ties', reason: because === null ? null : reasons.indexOf(because) + 1,
    })),
  };
}

function weakestOf({ pressureMpa, tablePsi, where, restsOn }: WeakestAnswer): WeakestOnChart | null {
  if (pressureMpa === null || tablePsi === null) return null;
  return { pressureMpa, tablePsi, places: where.map(({ md: { fromMm, toMm } }) => ({ fromMm, toMm })), restsOn: restsOn.map(restWords) };
}

function restWords({ input, value, unit, what, record, readAt }: PressureIntegrityAnswer['walls'][number]['weakest']['collapse']['restsOn'][number]): string {
  const by = record === null ? '' : `, ${record.kind.replaceAll('-', ' ')} ${record.label}`;
  return `${input} ${value}${unit === null ? '' : ` ${unit}`} (${what}${readAt === null ? '' : `, footage ${formatInterval(readAt)}`}${by})`;
}

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
