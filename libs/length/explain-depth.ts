/** How a depth was found, step by step, with the records it rests on. Every value is the one the figure was made of. */
import type { ExplainedValue, ExplanationStep } from '#libs/explanation';
import type { LengthModel } from './length-model.js';
import type { OuterKnot, OuterWallMap } from './outer-wall-map.js';
import type { Shoe } from './shoe.js';
import type { WeldFootage } from './string-lengths.js';
import { COVERAGE_FACTOR } from './uncertainty.js';
import type { DepthFigure } from './wall.js';
import type { WeldFootageFigure } from './weld-footage.js';

const SOURCE = 'length model of this program';

/** Steps from a footage to its depth on the outer wall. @throws LengthError as Wall.mdAt */
export function explainOuterMd(model: LengthModel, footageMm: number, shoe: Shoe | null = null): ExplanationStep[] {
  const figure = model.outerWall(shoe).mdAt(footageMm);
  const net = explainNet(model, footageMm, shoe?.atUs ?? Infinity);
  const netMm = Number(net.result.value);
  return [net, explainOuterStep(model.outer, netMm, figure), explainOuterUncertainty(model, netMm, figure)];
}

/** Steps from a footage to its depth on the inner wall at a shoe. @throws LengthError as Wall.mdAt */
export function explainInnerMd(model: LengthModel, footageMm: number, shoe: Shoe): ExplanationStep[] {
  const figure = model.innerWall(shoe).mdAt(footageMm);
  const net = explainNet(model, footageMm, shoe.atUs);
  return [net, ...explainShoe(model, shoe), explainInnerStep(shoe, net.result, figure), explainInnerUncertainty(model, shoe, net.result, figure)];
}

/** How the footage at the weld point was found at a time. @throws LengthError as LengthModel.weldFootageAt */
export function explainWeldFootage(model: LengthModel, atUs: number): ExplanationStep[] {
  const figure = model.weldFootageAt(atUs);
  const between = figure.readings.length > 1 ? [explainBetweenReadings(figure, atUs)] : [];
  return [...figure.readings.map(explainReading), ...between];
}

function explainReading({ record, footageMm, readIn }: WeldFootage): ExplanationStep {
  const result = millimetres('F', footageMm, record);
  const what = 'Footage at the weld point at a reading';
  if (readIn === null) return { what, formula: 'F as recorded', source: SOURCE, inputs: [millimetres('F', footageMm, record)], result };
  const { period, reading } = readIn;
  return {
    what,
    formula: 'F = F0 + s (c − c0)',
    source: SOURCE,
    inputs: [
      { name: 'c', value: reading, unit: 'counts', record },
      millimetres('F0', period.startFootageMm, period.record),
      { name: 's', value: period.scaleMmPerCount, unit: 'mm/count', record: period.record },
      { name: 'c0', value: period.startReading, unit: 'counts', record: period.record },
    ],
    result,
  };
}

function explainBetweenReadings({ readings, footageMm }: WeldFootageFigure, atUs: number): ExplanationStep {
  return {
    what: 'Footage at the weld point between two readings',
    formula: 'F = F1 + (F2 − F1) (t − t1) / (t2 − t1), u = |F2 − F1| / √12',
    source: 'JCGM 100:2008 (GUM), 4.3.7',
    inputs: [
      { name: 't', value: atUs, unit: 'µs' },
      ...readings.flatMap((reading, index) => [
        { name: `t${index + 1}`, value: reading.atUs, unit: 'µs', record: reading.record },
        millimetres(`F${index + 1}`, reading.footageMm, reading.record),
      ]),
    ],
    result: millimetres('F', footageMm),
  };
}

function explainNet(model: LengthModel, footageMm: number, atUs: number): ExplanationStep {
  const cutOuts = model.wellNets.cutOutsBelow(footageMm, atUs);
  return {
    what: 'Net length: footage less what was cut out below it',
    formula: 'n = p − Σ (cut-outs below p)',
    source: SOURCE,
    inputs: [
      millimetres('p', footageMm),
      ...cutOuts.map(({ fromMm, toMm, record }) => millimetres(`cut-out [${fromMm}, ${toMm})`, toMm - fromMm, record)),
    ],
    result: millimetres('n', model.wellNets.at(atUs).at(footageMm)),
  };
}

function explainOuterStep(outer: OuterWallMap, netMm: number, figure: DepthFigure): ExplanationStep {
  const { before, after } = outer.knotsAround(netMm);
  const ratio = outer.ratioRecordAt(netMm);
  const lambda: ExplainedValue = { name: 'λ', value: outer.lambdaAt(netMm), unit: '1', ...(ratio && { record: ratio }) };
  return {
    what: `Depth on the outer wall, ${figure.basis}`,
    formula: `md = md1 + λ (n − n1), ${after === undefined ? 'λ the default ratio' : 'λ = (md2 − md1) / (n2 − n1)'}`,
    source: SOURCE,
    inputs: [millimetres('n', netMm), ...knotValues('1', before), ...(after === undefined ? [] : knotValues('2', after)), lambda],
    result: millimetres('md', figure.mdMm),
  };
}

function knotValues(suffix: string, knot: OuterKnot): ExplainedValue[] {
  return [millimetres(`n${suffix}`, knot.netMm, knot.record), millimetres(`md${suffix}`, knot.mdMm, knot.record)];
}

function explainShoe(model: LengthModel, shoe: Shoe): ExplanationStep[] {
  const { hangOff } = model;
  const outerStep = explainOuterStep(model.outer, shoe.netMm, { mdMm: shoe.mdMm, uMm: shoe.uMdMm, basis: shoe.basis });
  const { counted } = shoe;
  if (counted === null) {
    const formula = `n_shoe with g(n_shoe) = md_shoe; ${outerStep.formula}`;
    return [{ ...outerStep, what: 'Material at the shoe, from its depth by the outer map', formula }];
  }
  const weldNet = explainNet(model, counted.weldFootageMm, shoe.atUs);
  return [
    { ...weldNet, what: 'Net length at the weld point', result: millimetres('n(F)', counted.weldNetMm) },
    {
      what: 'Material at the shoe, from the footage at the weld point',
      formula: 'g(n_shoe) + n_shoe = n(F) − x + md_h, g the outer map',
      source: SOURCE,
      inputs: [
        millimetres('n(F)', counted.weldNetMm),
        millimetres('x', counted.path.pathMm, counted.path.record),
        millimetres('md_h', hangOff.mdMm, hangOff.record),
      ],
      result: millimetres('n_shoe', shoe.netMm),
    },
    { ...outerStep, what: `Depth of the shoe on the outer map, ${shoe.basis}` },
  ];
}

function explainInnerStep(shoe: Shoe, net: ExplainedValue, figure: DepthFigure): ExplanationStep {
  return {
    what: `Depth on the inner wall, ${figure.basis}`,
    formula: 'md = md_shoe − (n − n_shoe)',
    source: SOURCE,
    inputs: [net, millimetres('md_shoe', shoe.mdMm), millimetres('n_shoe', shoe.netMm)],
    result: millimetres('md', figure.mdMm),
  };
}

function explainOuterUncertainty({ outer, lengths }: LengthModel, netMm: number, figure: DepthFigure): ExplanationStep {
  const { before, after } = outer.knotsAround(netMm);
  const { defaultRatio } = lengths;
  const ratioRecord = defaultRatio.record && { record: defaultRatio.record };
  const uLambda: ExplainedValue = { name: 'u_λ', value: defaultRatio.u, unit: '1', ...ratioRecord };
  const formula =
    after === undefined
      ? 'U = 2 √(u1² + (λ s d1)² + (u_λ d1)²), d1 = n − n1'
      : 'U = 2 √(((1 − f) u1 + f u2)² + (λ s d1 d2 / (d1 + d2))²), d1 = n − n1, d2 = n2 − n, f = d1 / (d1 + d2)';
  return expanded(figure, formula, [
    millimetres('u1', before.uMm, before.record),
    ...(after === undefined ? [uLambda] : [millimetres('u2', after.uMm, after.record)]),
    { name: 's', value: lengths.scaleRelativeU, unit: '1' },
  ]);
}

function explainInnerUncertainty({ lengths }: LengthModel, shoe: Shoe, net: ExplainedValue, figure: DepthFigure): ExplanationStep {
  const fixed = shoe.counted === null ? 'u0 = u_outer(n_shoe) / λ' : 'u0² = u_mdh² + u_x² + u_F²';
  return expanded(figure, `U = 2 √(u0² + (s (n0 − n))²), ${fixed}`, [
    millimetres('u0', shoe.spread.fixedMm),
    millimetres('n0', shoe.spread.countedFromNetMm),
    net,
    { name: 's', value: lengths.scaleRelativeU, unit: '1' },
  ]);
}

function expanded({ uMm }: DepthFigure, formula: string, inputs: ExplainedValue[]): ExplanationStep {
  return {
    what: 'Expanded uncertainty of the depth (k = 2)',
    formula,
    source: 'JCGM 100:2008 (GUM), 5.1.2, 5.2.2 and 6.2',
    inputs,
    result: millimetres('U', COVERAGE_FACTOR * uMm),
  };
}

function millimetres(name: string, value: number, record?: ExplainedValue['record']): ExplainedValue {
  return { name, value, unit: 'mm', ...(record && { record }) };
}
