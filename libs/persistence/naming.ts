import { DefaultNamingStrategy, type NamingStrategyInterface } from 'typeorm';

/** Columns are snake_case in the database and camelCase in the entities; tables are named by their entity. */
export class SnakeCaseColumns extends DefaultNamingStrategy implements NamingStrategyInterface {
  override columnName(propertyName: string, customName: string | undefined): string {
    return customName ?? propertyName.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
  }
}
