import { isUnitName, converter, UNITS } from '#libs/units';

const PLAIN = /^-?\d+(?:\.\d+)?$/;

/** What makes a value in one unit one in the unit of the chart; a text says why there is none. A scale, such as one of hardness, is comparable with itself alone. */
export function conversionTo(chartUnit: string, unit: string): ((value: number) => number) | string {
  if (unit === chartUnit) return (value) => value;
  if (isUnitName(unit) && isUnitName(chartUnit) && UNITS[unit].dimension === UNITS[chartUnit].dimension) return converter(unit, chartUnit);
  return `it is in ${unit}, and the chart is in ${chartUnit}`;
}

/** What was printed, in the unit of the chart; a text says why it is no point of a chart. */
export function chartValue(printed: string, unit: string, chartUnit: string): number | string {
  if (!PLAIN.test(printed)) return `"${printed}" is no plain number: a bound is no reading`;
  const conversion = conversionTo(chartUnit, unit);
  return typeof conversion === 'string' ? conversion : conversion(Number(printed));
}
