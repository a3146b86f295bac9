import type { Moment } from '#libs/validity';

const MINUTE_MS = 60_000;
const DAY_MINUTES = 1440;

/** Tells local days apart, thousands of them at little cost; what day it is `localDay` says. Whole days since 1970. */
export const localDayNumber = ({ instant, offsetMinutes }: Moment): number => Math.floor((Date.parse(instant) / MINUTE_MS + offsetMinutes) / DAY_MINUTES);
