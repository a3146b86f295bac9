import { setImmediate as others } from 'node:timers/promises';
import { autocorrelatedRunLength, cusumRunLength, ewmaRunLength, naiveChart, shewhartRunLength } from '#libs/spc';
import { ruleName } from '../charting/chart-design.js';
import { refusedField } from '../http/problem.js';
import type { RunLengthAnswer, RunLengthPart } from './run-length.dto.js';
import type { RunLengthQuestion } from './run-length-question.js';

const METHODS: Readonly<Record<RunLengthQuestion['chart'] | 'correlated', string>> = {
  shewhart: 'Exact, by the Markov chain of what the rules remember: C. W. Champ and W. H. Woodall, Technometrics 29 (1987), 393-399.',
  ewma: 'Integral equation at the nodes of Gauss: S. V. Crowder, Technometrics 29 (1987), 401-407; limits as they are in the end.',
  cusum: 'Integral equation at the nodes of Gauss: E. S. Page, Biometrika 41 (1954), 100-115; both sides by J. M. Lucas and R. B. Crosier, Technometrics 24 (1982), 199-205.',
  correlated: 'Integral equation of an autoregressive process: W. Schmid and A. Kramer, Statistical Papers 41 (2000), 173-196; the limits are those that moving ranges give on such values.',
};
const CAUTIONS = [
  'For normal values and limits that are known for certain: limits from few points signal more often than this, or less.',
  'Values that resemble each other signal far more often: ask with phi, and look at the lag-1 correlation of the chart.',
];
const SEVERAL = 'Several charts: each was taken to signal by itself, independent of the others.';

/**
 * What a chart costs in false alarms and how soon it sees a change. Refuses (422) designs whose run length cannot be worked out.
 * Other requests have their turn between shifts: each takes up to half a second.
 */
export async function runLengths(question: RunLengthQuestion): Promise<RunLengthAnswer> {
  const lengths: RunLengthPart[] = [];
  for (const shift of question.shifts) {
    await others();
    const points = pointsOf(question, shift);
    lengths.push({ shift, points, minutes: minutesOf(question, shift, points) });
  }
  const { chart, rules, phi, charts } = question;
  return {
    chart, rules: chart === 'shewhart' ? rules.map(ruleName) : [], lengths, method: [METHODS[phi === 0 ? chart : 'correlated']],
    cautions: [...CAUTIONS, ...(charts > 1 ? [SEVERAL] : [])],
  };
}

function pointsOf({ chart, rules, phi, lambda, width, k, h }: RunLengthQuestion, shift: number): number {
  try {
    if (chart === 'ewma') return ewmaRunLength(lambda, width, shift);
    if (chart === 'cusum') return cusumRunLength({ k, h }, shift);
    return phi === 0 ? shewhartRunLength(rules, shift) : autocorrelatedRunLength(phi, { multiple: 3 * naiveChart(phi).spreadRatio, shift });
  } catch (error) {
    if (error instanceof RangeError) throw refusedField('no-run-length', chart === 'shewhart' ? 'rules' : 'chart', chart === 'shewhart' ? rules.map(ruleName).join(',') : chart, error.message);
    throw error;
  }
}

/** The first of several independent charts to signal falsely: rates add. A shift is of one of them alone. */
function minutesOf({ charts, minutesAPoint }: RunLengthQuestion, shift: number, points: number): number | null {
  if (minutesAPoint === null) return null;
  return (minutesAPoint * points) / (shift === 0 ? charts : 1);
}
