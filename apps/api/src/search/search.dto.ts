import { Choice, Id, Parts, Text } from '../http/fields.js';

export const FOUND_KINDS = ['coil', 'heat', 'certificate', 'strip-order'] as const;

/** A record whose number was found. */
export class FoundRecord {
  @Choice({ description: 'The kind of record.', example: 'coil', of: FOUND_KINDS })
  kind!: (typeof FOUND_KINDS)[number];

  @Id({ description: 'The record.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  id!: string;

  @Text({ description: 'Its number.', example: 'LM-01', max: 60 })
  number!: string;

  @Text({ description: 'More to tell it by: the grade of a heat, the issuer of a certificate, the mill of an order.', example: 'heat H40711', max: 200 })
  more!: string;

  @Choice({ description: 'part: the text stands in the number; like: it nearly does.', example: 'part', of: ['part', 'like'] })
  match!: 'part' | 'like';
}

export class SearchAnswer {
  @Text({ description: 'What was looked for.', example: '0711', max: 60 })
  text!: string;

  @Parts({ description: 'What was found: numbers that begin with the text, then those it stands in; where there are none, those like it.', of: () => FoundRecord, max: 50 })
  found!: FoundRecord[];
}
