/** Checks that the data of every report share. */

/** Data that cannot be drawn truthfully; `path` names the field. */
export class ReportDataError extends Error {
  constructor(
    readonly path: string,
    problem: string,
  ) {
    super(`${path} ${problem}`);
    this.name = 'ReportDataError';
  }
}

const UTC_INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,9})?Z$/;

export function checkInstant(path: string, instant: string): void {
  if (!UTC_INSTANT.test(instant) || Number.isNaN(Date.parse(instant))) {
    throw new ReportDataError(path, 'is not a UTC instant such as 2031-04-02T10:11:12Z');
  }
}

export function checkInstantOrNull(path: string, instant: string | null): void {
  if (instant !== null) checkInstant(path, instant);
}

export function checkVersion(path: string, version: number): void {
  if (!Number.isSafeInteger(version) || version < 1) throw new ReportDataError(path, 'is not a whole number from 1');
}

export function checkSha256(path: string, sha256: string): void {
  if (!/^[0-9a-fA-F]{64}$/.test(sha256)) throw new ReportDataError(path, 'is not 64 hexadecimal digits');
}

/** What a thing is known by must be there. */
export function checkPresent(path: string, text: string): void {
  if (text.trim() === '') throw new ReportDataError(path, 'is blank');
}
