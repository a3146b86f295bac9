import { describe, expect, test } from '@jest/globals';
import type { PaperLine, PrintedValue } from '#libs/strip';
import { coilKnowledge, coilPaper, coilRow, paperLine, printed, receiptRow } from './coil-knowledge.factory.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import { massChecks } from './mass-checks.js';

const mass = (digits: string, changes: Partial<PrintedValue> = {}): PrintedValue => printed({ characteristic: 'mass', analysis: null, printed: digits, unit: 'kg', ...changes });
const line = (coilNumber: string | null, ...values: PrintedValue[]): PaperLine => paperLine({ coilNumber, values });
const details = (changes: Partial<CoilKnowledge>): string[] => massChecks(coilKnowledge(changes)).map(({ detail }) => detail);
/** Of one paper about one coil of 3200 kg. */
const onPaper = (...values: PrintedValue[]): string[] => details({ papers: [coilPaper([line('LM-02', ...values)])], delivered: [] });

describe('the mass of a coil', () => {
  test('on paper within 1 % of the one on record, ends included', () => {
    for (const digits of ['3200', '3168', '3232']) expect(onPaper(mass(digits))).toEqual([]);
    expect(onPaper(mass('3167.9'))).toEqual(['certificate TS-1 gives 3167.9 kg; on record are 3200 kg']);
    expect(onPaper(mass('3232.1'))).toEqual(['certificate TS-1 gives 3232.1 kg; on record are 3200 kg']);
  });

  test('in t and lb is that in kg', () => {
    expect(onPaper(mass('3.20', { unit: 't' }))).toEqual([]);
    expect(onPaper(mass('3.30', { unit: 't' }))).toEqual(['certificate TS-1 gives 3300 kg; on record are 3200 kg']);
    // 7055 lb × 0.45359237 kg = 3200.09 kg; 7200 lb are 3265.9 kg.
    expect(onPaper(mass('7055', { unit: 'lb' }))).toEqual([]);
    expect(onPaper(mass('7200', { unit: 'lb' }))).toEqual(['certificate TS-1 gives 3265.9 kg; on record are 3200 kg']);
  });

  test('is that of its own line, and of the first of its lines that gives one', () => {
    const papers = [coilPaper([line('LM-01', mass('9000')), line('LM-02', printed()), line('LM-02', mass('3300'))])];
    expect(details({ papers, delivered: [] })).toEqual(['certificate TS-1 gives 3300 kg; on record are 3200 kg']);
  });

  test('of the mill\'s paper is that of the piece it was slit from, and is not compared with the coil', () => {
    expect(details({ papers: [coilPaper([line('LM-02', mass('9000'))], { role: 'mill' })], delivered: [] })).toEqual([]);
    expect(details({ papers: [coilPaper([line('LM-02', mass('9000'))], { role: 'slitter' })], delivered: [] })).toHaveLength(1);
  });

  test('weighed here, when delivered', () => {
    const weighed = (weighedMassKg: string | null, occasion: 'delivery' | 'back-from-line' = 'delivery'): string[] => details({ receipts: [receiptRow({ weighedMassKg, occasion })] });
    for (const kg of ['3168', '3232', null]) expect(weighed(kg)).toEqual([]);
    expect(weighed('3232.01')).toEqual(['weighed here: 3232.01 kg; on record are 3200 kg']);
    expect(weighed('3167.99')).toHaveLength(1);
    expect(weighed('900', 'back-from-line')).toEqual([]);
  });

  test('that is not printed, or cannot be read, says nothing', () => {
    expect(onPaper()).toEqual([]);
    expect(onPaper(mass('9,000'))).toEqual([]);
    expect(details({ papers: [coilPaper([], { keyings: [] })] })).toEqual([]);
  });
});

describe('the mass of a delivery', () => {
  const coils = (...massesKg: string[]): CoilKnowledge['delivered'] => massesKg.map((massKg, index) => coilRow({ id: `coil ${index}`, number: `LM-0${index + 1}`, massKg }));
  const delivery = (lines: PaperLine[], delivered: CoilKnowledge['delivered']): string[] => details({ coil: coilRow({ number: 'LM-99' }), papers: [coilPaper(lines, { namedAs: 'LM-99' })], delivered });
  const certified = [line('LM-01', mass('3200')), line('LM-02', mass('3.2', { unit: 't' }))];

  test('is at most what the certificate certifies and 1 % of it', () => {
    expect(delivery(certified, coils('3200', '3264'))).toEqual([]);
    expect(delivery(certified, coils('3200', '3264.1'))).toEqual(['certificate TS-1 certifies 6400 kg; the coils that came with it have 6464.1 kg together']);
  });

  test('below it is no wonder: not all may have come', () => {
    expect(delivery(certified, coils('3200'))).toEqual([]);
  });

  test('with a coil too many names the stranger', () => {
    expect(delivery(certified, coils('3200', '3200', '3200'))).toEqual(['certificate TS-1 certifies 6400 kg; the coils that came with it have 9600 kg together; it does not name LM-03']);
  });

  test('counts the coils of this certificate alone', () => {
    expect(delivery(certified, [...coils('3200', '3200'), coilRow({ certificateId: 'other', massKg: '9000' })])).toEqual([]);
  });

  test('counts a coil on several lines once, and heats only where no coil has a mass', () => {
    for (const again of ['3200', '9000']) expect(delivery([...certified, line('lm-01', mass(again))], coils('3200', '3200', '3200'))).toHaveLength(1);
    expect(delivery([...certified, line(null, mass('6400'))], coils('3200', '3200', '3200'))).toHaveLength(1);
    const ofHeat = [line('LM-01'), line(null, mass('6400'))];
    expect(delivery(ofHeat, coils('3200', '3200'))).toEqual([]);
    expect(delivery(ofHeat, coils('3200', '3300'))).toHaveLength(1);
  });

  test('without a mass on the paper has nothing to be more than', () => {
    expect(delivery([line('LM-01')], coils('3200'))).toEqual([]);
  });
});

describe('what was slit from one piece', () => {
  const slit = (massesKg: string[], masterCoil: string | null = 'M-5117'): string[] => details({
    coil: coilRow({ masterCoil }), papers: [coilPaper([line('M-5117', mass('9600'))], { role: 'mill', namedAs: 'M-5117', certificate: coilPaper().certificate })],
    delivered: [...massesKg.map((massKg, index) => coilRow({ id: `coil ${index}`, massKg, certificateId: 'slitter', masterCoil })), coilRow({ masterCoil: 'M-5118', certificateId: 'slitter' })],
  });

  test('weighs at most the piece and 1 % of it', () => {
    expect(slit(['3200', '3200', '3296'])).toEqual([]);
    expect(slit(['3200', '3200', '3296.1'])).toEqual(['master coil M-5117 has 9600 kg on certificate TS-1; what was slit from it has 9696.1 kg together']);
  });

  test('is not compared where the paper speaks of another piece, or none is on record', () => {
    expect(slit(['9000', '9000'], 'M-5119')).toEqual([]);
    expect(slit(['9000', '9000'], null)).toEqual([]);
  });
});
