export type LasFault = 'mnemonic' | 'unit' | 'text' | 'index' | 'step' | 'null' | 'row' | 'value' | 'line';

/** What a LAS file cannot hold, with the name of the item or curve and, for data, the number of the row, from 1. */
export class LasError extends Error {
  override readonly name = 'LasError';

  constructor(readonly fault: LasFault, readonly item: string, why: string, readonly row: number | null = null) {
    super(row === null ? `${item}: ${why}` : `row ${row}, ${item}: ${why}`);
  }
}
