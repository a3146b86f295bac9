/**
 * An actual weld against its procedure: each value beside its range, each choice beside its list, with what decided. The
 * whole is the worst of them, never an average. It shows whether the procedure was kept, which is not whether the weld is
 * sound, nor whether the procedure was qualified for it: that is the welding coordinator's to say.
 */
import { worst, type Verdict } from '#libs/conformity';
import { listLines, rangeLines, unlimitedChoiceLine, unlimitedValueLine, type ProcedureLine } from './procedure-line.js';
import { demandSense, type WeldProcedure } from './procedure.js';
import { variableOf, type ActualWeld } from './weld-value.js';

export interface ProcedureCheck {
  readonly verdict: Verdict;
  /**
   * The ranges in the order of the procedure, then its lists, then the values that it does not limit; several values of one
   * in the order in which they were given.
   */
  readonly lines: readonly ProcedureLine[];
}

/**
 * The check of any number of welds against one procedure, which is made ready once. What the function answers depends on
 * the weld alone; it never throws, and the order of the values moves no verdict. A limit without a value is 'not-reported'; a
 * value without a limit is 'not-limited' and no part of the worst.
 * Throws RangeError when the procedure limits nothing, limits what is no weld variable, in a unit that it does not have or
 * with limits reversed, or has an empty list; SyntaxError when a limit is no plain decimal.
 */
export function procedureChecker(procedure: WeldProcedure): (weld: ActualWeld) => ProcedureCheck {
  demandSense(procedure);
  const { name, ranges, lists } = procedure;
  const byRange = ranges.map((range) => ({ variable: range.variable, linesOf: rangeLines(name, range) }));
  const byList = lists.map((list) => ({ choice: list.choice, linesOf: listLines(name, list) }));
  const limited = { variables: new Set(ranges.map(({ variable }) => variable)), choices: new Set(lists.map(({ choice }) => choice)) };
  return ({ values, chosen }) => {
    const lines = [
      ...byRange.flatMap(({ variable, linesOf }) => linesOf(values.filter((value) => variableOf(value) === variable))),
      ...byList.flatMap(({ choice, linesOf }) => linesOf(chosen.filter((one) => one.choice === choice))),
      ...values.filter((value) => !limited.variables.has(variableOf(value))).map((value) => unlimitedValueLine(name, value)),
      ...chosen.filter(({ choice }) => !limited.choices.has(choice)).map((one) => unlimitedChoiceLine(name, one)),
    ];
    return { verdict: worst(lines.map(({ verdict }) => verdict).filter((verdict) => verdict !== 'not-limited')), lines };
  };
}
