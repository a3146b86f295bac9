import type { NonconformanceReportData, NonconformanceReportOptions } from '#libs/reports';

/** What a drawing thread is asked for. */
export interface DrawOrder {
  readonly data: NonconformanceReportData;
  readonly paper: NonconformanceReportOptions['paper'];
}

/** The finished file, or why there is none. */
export type DrawAnswer =
  | { readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly error: { readonly name: string; readonly message: string; readonly stack: string } };
