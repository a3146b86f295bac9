/** Types of inspection document of EN 10204:2004, from two summaries of the standard that agree; lowest first. */
export const INSPECTION_DOCUMENT_TYPES = ['2.1', '2.2', '3.1', '3.2'] as const;
export type InspectionDocumentType = (typeof INSPECTION_DOCUMENT_TYPES)[number];

export interface InspectionDocument {
  readonly type: InspectionDocumentType;
  readonly title: string;
  readonly testResultsIncluded: boolean;
  /** Specific inspection is of the products delivered, non-specific of others made the same way. */
  readonly inspectionBasis: 'none' | 'non-specific' | 'specific';
  readonly validatedBy: string;
}

const REPRESENTATIVE = "manufacturer's authorised inspection representative, independent of the manufacturing department";
const SECOND_SIGNATORY =
  "either the purchaser's authorised inspection representative or the inspector designated by official regulations";

const DOCUMENTS: Readonly<Record<InspectionDocumentType, InspectionDocument>> = {
  '2.1': {
    type: '2.1', title: 'Declaration of compliance with the order', testResultsIncluded: false, inspectionBasis: 'none',
    validatedBy: 'manufacturer',
  },
  '2.2': { type: '2.2', title: 'Test report', testResultsIncluded: true, inspectionBasis: 'non-specific', validatedBy: 'manufacturer' },
  '3.1': {
    type: '3.1', title: 'Inspection certificate 3.1', testResultsIncluded: true, inspectionBasis: 'specific', validatedBy: REPRESENTATIVE,
  },
  '3.2': {
    type: '3.2', title: 'Inspection certificate 3.2', testResultsIncluded: true, inspectionBasis: 'specific',
    validatedBy: `${REPRESENTATIVE}, and ${SECOND_SIGNATORY}`,
  },
};

/** What the standard says of a type. */
export function inspectionDocument(type: InspectionDocumentType): InspectionDocument {
  return DOCUMENTS[type];
}

/** Whether the text names a type of 2004, letter for letter. */
export function isInspectionDocumentType(text: string): text is InspectionDocumentType {
  return INSPECTION_DOCUMENT_TYPES.some((type) => type === text);
}

/** Types of the 1991 edition that the 2004 edition renamed or dropped; its 3.2 was a report. Source: foreword of EN 10204:2004. */
export const TYPES_OF_1991 = { '2.3': 'deleted', '3.1.A': '3.2', '3.1.B': '3.1', '3.1.C': '3.2', '3.2': '3.2' } as const satisfies Record<
  string, InspectionDocumentType | 'deleted'
>;
export type TypeOf1991 = keyof typeof TYPES_OF_1991;

/** Whether the text names one of those, letter for letter. */
export function isTypeOf1991(text: string): text is TypeOf1991 {
  return Object.hasOwn(TYPES_OF_1991, text);
}

/**
 * Whether a document of this type will do where another is demanded: the types rise from a bare declaration to results
 * signed by two parties. Common practice, no published source.
 */
export function atLeast(type: InspectionDocumentType, demanded: InspectionDocumentType): boolean {
  return INSPECTION_DOCUMENT_TYPES.indexOf(type) >= INSPECTION_DOCUMENT_TYPES.indexOf(demanded);
}
