import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import type { Transaction } from '#libs/persistence';
import {
  checkToleranceTable, requirementFaults, requirementName, specificationDifferences, THICKNESS_TOLERANCE_TABLES,
  type Provisions, type Requirement, type ToleranceTable,
} from '#libs/strip';
import { malformed, refusedField, type FieldProblem } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import type { RequirementPart, ToleranceTablePart } from './requirement.dto.js';
import { StripSpecificationInput, type SpecificationDifferenceAnswer, type StripSpecificationContent } from './strip-specification.dto.js';
import { StripSpecification } from './strip-specification.entity.js';

@Injectable()
export class StripSpecificationsService extends RecordsService<StripSpecification, StripSpecificationInput, StripSpecificationContent> {
  readonly kind = 'strip specification';
  readonly entity = StripSpecification;
  readonly input = StripSpecificationInput;
  protected override readonly constraints = {
    uq_strip_specification_revision: { field: 'revision', limit: 'a revision that this specification does not have yet' },
  };

  constructor(desk: RecordDesk) {
    super(desk);
  }

  /** The revision of a specification that is in force on a day: of those effective by then, the highest. Null when none is. */
  async inForce(number: string, day: string, asKnownAt: string | null, manager?: EntityManager): Promise<StripSpecification | null> {
    const rows = await this.desk.store.select(
      this.entity, "state = 'active' and upper(number) = upper($1) and effective_from <= $2::date", [number, day], asKnownAt,
      'order by revision desc limit 1', manager,
    );
    return rows[0] ?? null;
  }

  /** How a revision differs from the one before it, or from the revision with id `fromId`. */
  async difference(id: string, fromId: string | null, asKnownAt: string | null): Promise<SpecificationDifferenceAnswer> {
    const later = await this.row(id, asKnownAt);
    const earlier = fromId === null ? await this.before(later, asKnownAt) : await this.row(fromId, asKnownAt);
    const nothing = { provisions: {}, requirements: [] };
    const differences = specificationDifferences(earlier === null ? nothing : textOf(earlier), textOf(later));
    return { from: earlier?.revision ?? null, to: later.revision, differences };
  }

  protected content(_tx: Transaction, input: StripSpecificationInput): Content<StripSpecification> {
    const { number, revision, title, effectiveFrom, grade, documentType, rounding, decisionRule } = input;
    const ownTables = (input.ownTables ?? []).map(tableOf);
    const requirements = input.requirements.map(requirementOf);
    demandSense(requirements, ownTables);
    return {
      number, revision, title, effectiveFrom, grade, documentType, requirements, ownTables, rounding, decision: decisionRule,
      guardFactor: input.guardFactor ?? '1', edge: input.edge ?? null, surface: input.surface ?? null,
      testFrequency: input.testFrequency ?? null, retestRule: input.retestRule ?? null, note: input.note ?? null,
    };
  }

  protected present(row: StripSpecification): StripSpecificationContent {
    const { number, revision, title, effectiveFrom, grade, documentType, rounding, guardFactor, edge, surface } = row;
    return {
      number, revision, title, effectiveFrom, grade, documentType, requirements: [...row.requirements],
      ownTables: row.ownTables as ToleranceTablePart[], rounding, decisionRule: row.decision, guardFactor, edge, surface,
      testFrequency: row.testFrequency, retestRule: row.retestRule, note: row.note,
    };
  }

  private async before({ number, revision }: StripSpecification, asKnownAt: string | null): Promise<StripSpecification | null> {
    const rows = await this.desk.store.select(
      this.entity, "state = 'active' and upper(number) = upper($1) and revision < $2", [number, revision], asKnownAt, 'order by revision desc limit 1',
    );
    return rows[0] ?? null;
  }
}

function requirementOf(part: RequirementPart): Requirement {
  return {
    characteristic: part.characteristic, analysis: part.analysis ?? null, min: part.min ?? null, max: part.max ?? null, unit: part.unit,
    limitOf: part.limitOf ?? 'value', toleranceTable: part.toleranceTable ?? null, toDecimals: part.toDecimals ?? null,
    expandedU: part.expandedU ?? null, temperatureC: part.temperatureC ?? null, baseMm: part.baseMm ?? null, clause: part.clause ?? null,
  };
}

function tableOf({ name, edition, source, rows }: ToleranceTablePart): ToleranceTable {
  return {
    name, edition, source,
    rows: rows.map(({ overMm, toMm, widths }) => ({
      overMm, toMm, widths: widths.map((width) => ({ overMm: width.overMm, toMm: width.toMm ?? null, plusMinusMm: width.plusMinusMm })),
    })),
  };
}

/** Refuses, field by field, requirements that contradict themselves or one another, and tables that do. */
function demandSense(requirements: readonly Requirement[], ownTables: readonly ToleranceTable[]): void {
  const tables = new Set([...THICKNESS_TOLERANCE_TABLES, ...ownTables].map(({ name }) => name));
  const faults: FieldProblem[] = requirements.flatMap((requirement, index) =>
    requirementFaults(requirement, tables).map(({ field, value, limit }) => ({ field: `requirements[${index}].${field}`, value, limit })),
  );
  const wrongTables = ownTables.flatMap((table, index) =>
    checkToleranceTable(table).map((limit) => ({ field: `ownTables[${index}]`, value: table.name, limit })),
  );
  const wrongNames = ownTables.flatMap(({ name }, index) => {
    const isTaken = THICKNESS_TOLERANCE_TABLES.some((table) => table.name === name) || ownTables.findIndex((table) => table.name === name) !== index;
    return isTaken ? [{ field: `ownTables[${index}].name`, value: name, limit: 'a name that no other table has' }] : [];
  });
  const problems = [...faults, ...wrongTables, ...wrongNames];
  if (problems.length > 0) throw malformed(problems);
  const names = requirements.map(requirementName);
  const twice = names.findIndex((name, index) => names.indexOf(name) !== index);
  if (twice >= 0) throw refusedField('twice', `requirements[${twice}]`, names[twice], `${names[twice] ?? ''} at most once`);
}

function textOf(row: StripSpecification): { provisions: Provisions; requirements: readonly Requirement[] } {
  const tables = row.ownTables.map((table) => [`table ${table.name}`, JSON.stringify(table.rows)]);
  const provisions = {
    title: row.title, grade: row.grade, 'effective from': row.effectiveFrom, 'inspection document, at least': row.documentType,
    rounding: row.rounding, 'decision rule': row.decision, 'guard factor': row.guardFactor, edge: row.edge, surface: row.surface,
    'test frequency': row.testFrequency, 'retest rule': row.retestRule, ...(Object.fromEntries(tables) as Provisions),
  };
  return { provisions, requirements: row.requirements };
}
