import type { CoilSheetData, CoilTagData, NonconformanceReportData, Paper } from '#libs/reports';

/** What a drawing thread is asked for. A tag has a size of its own. */
export type DrawOrder =
  | { readonly report: 'nonconformance'; readonly data: NonconformanceReportData; readonly paper: Paper }
  | { readonly report: 'coil-sheet'; readonly data: CoilSheetData; readonly paper: Paper }
  | { readonly report: 'coil-tag'; readonly data: CoilTagData };

/** The finished file, or why there is none. */
export type DrawAnswer =
  | { readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly error: { readonly name: string; readonly message: string; readonly stack: string } };
