/**
 * Types of inspection document of EN 10204:2004, named from memory: 2.1 declaration of compliance, 2.2 test report,
 * 3.1 and 3.2 inspection certificates (3.2 also signed by the purchaser's or an official inspector).
 */
export const DOCUMENT_TYPES = ['2.1', '2.2', '3.1', '3.2'] as const;
export type DocumentType = (typeof DOCUMENT_TYPES)[number];
