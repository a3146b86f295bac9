import { Module, type DynamicModule } from '@nestjs/common';
import { DataSource, getMetadataArgsStorage } from 'typeorm';
import { Clock, type EntityClass } from '#libs/persistence';
import { Configuration } from './configuration.js';

/** What the application is made with: its configuration, its database and its clock. */
@Module({})
export class ProvidedModule {
  static with(configuration: Configuration, dataSource: DataSource, clock: Clock): DynamicModule {
    const providers = [
      { provide: Configuration, useValue: configuration },
      { provide: DataSource, useValue: dataSource },
      { provide: Clock, useValue: clock },
    ];
    return { module: ProvidedModule, global: true, providers, exports: [Configuration, DataSource, Clock] };
  }
}

/** The entities of all features that were imported so far, so that no second list of them has to be kept. */
export function declaredEntities(): EntityClass[] {
  return getMetadataArgsStorage()
    .tables.filter((table) => table.type === 'regular')
    .map((table) => table.target as EntityClass);
}
