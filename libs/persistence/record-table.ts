import { Check, Entity, ForeignKey, Index } from 'typeorm';

/**
 * A record's own references: the property that holds the id, and the table it names. The foreign key leads to the first
 * version there, and is named after the column.
 */
export type RecordReferences = Readonly<Record<string, string>>;

/**
 * Class decorator of a record's entity. It says of the table, under the migrations' names, what every table of versions
 * has, so that a comparison of entities and database shows each constraint that only one of them knows. Nothing here
 * makes a constraint: the migrations do.
 */
export function RecordTable(name: string, references: RecordReferences = {}): ClassDecorator {
  const links = { doneBy: 'person', keyedBy: 'person', ...references };
  const said = [
    Entity(name),
    Check(`ck_${name}_version`, 'version >= 1'),
    Check(`ck_${name}_state`, "state in ('active', 'void')"),
    Check(`ck_${name}_reason`, 'version = 1 or reason is not null'),
    Check(`ck_${name}_known`, 'known_until > known_from'),
    Index(`uq_${name}_open`, ['id'], { unique: true, where: 'known_until is null' }),
    ...Object.entries(links).map(([property, target]) =>
      ForeignKey(target, [property, 'one'], ['id', 'version'], { name: `fk_${name}_${columnOf(property)}` }),
    ),
  ];
  return (type) => {
    for (const decorate of said) decorate(type);
  };
}

/** An index that only the migrations can say in full, such as one over an expression: here it is only named. */
export function IndexByName(name: string): ClassDecorator {
  return Index(name, { synchronize: false });
}

const columnOf = (property: string): string => property.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
