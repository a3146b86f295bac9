/** The letter of each rule by which points signal, the same on every chart, so that no signal is told by its place or shade alone. */
import type { SignalRule } from '#libs/charting';
import { RUN_RULES } from '#libs/spc';
import type { PictureSignal } from './control-chart-data.js';

/** Our own choice, in the order of the rules, without I, which looks like a 1; a letter once printed never means another rule. */
export const RULE_LETTERS = {
  oneBeyond3Sigma: 'A', twoOfThreeBeyond2Sigma: 'B', fourOfFiveBeyond1Sigma: 'C', sevenOnOneSide: 'D', eightOnOneSide: 'E', nineOnOneSide: 'F',
  sixSteadily: 'G', sevenSteadily: 'H', fourteenAlternating: 'J', fifteenWithin1Sigma: 'K', eightBeyond1Sigma: 'L', beyondLimit: 'M',
} as const satisfies Readonly<Record<SignalRule, string>>;
export const SIGNAL_RULES = Object.keys(RULE_LETTERS) as readonly SignalRule[];

/** @example signalName({ number: 3, rule: 'oneBeyond3Sigma', text: '…' }) // 'A3' */
export const signalName = ({ number, rule }: PictureSignal): string => `${RULE_LETTERS[rule]}${number}`;

/** What the letters of these signals mean, in the order of the letters; empty for no signal. */
export function letterWords(signals: readonly PictureSignal[]): string {
  const rules = SIGNAL_RULES.filter((rule) => signals.some((signal) => signal.rule === rule));
  return rules.map((rule) => `${RULE_LETTERS[rule]}: ${rule === 'beyondLimit' ? 'a point beyond a control limit' : RUN_RULES[rule].text}.`).join(' ');
}

/** @example numbersInWords([1, 2, 3, 7], () => 'A') // 'A1–3, A7' */
export function numbersInWords(numbers: readonly number[], letterOf: (number: number) => string): string {
  const ranges: { letter: string; from: number; to: number }[] = [];
  for (const number of numbers) {
    const [last, letter] = [ranges.at(-1), letterOf(number)];
    if (last !== undefined && last.to === number - 1 && last.letter === letter) last.to = number;
    else ranges.push({ letter, from: number, to: number });
  }
  return ranges.map(({ letter, from, to }) => (from === to ? `${letter}${from}` : `${letter}${from}–${to}`)).join(', ');
}
