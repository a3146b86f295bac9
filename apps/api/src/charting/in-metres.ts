/** A length in metres with its millimetres, as sentences and tables of charts have it. */
export const inMetres = (mm: number): string => (mm / 1000).toFixed(3);
