import { Injectable } from '@nestjs/common';
import { DiscoveryService } from '@nestjs/core';
import type { RecordClass, RecordVersion } from '#libs/persistence';
import { RecordsReader } from './records-reader.js';

type AnyReader = RecordsReader<RecordVersion, object>;

/** The reader of each kind of record: for questions about kinds that they need not know. */
@Injectable()
export class RecordReaders {
  private readers: ReadonlyMap<RecordClass<RecordVersion>, AnyReader> | null = null;

  constructor(private readonly discovery: DiscoveryService) {}

  /** How records of a class are answered. Throws when no feature reads them. */
  of(entity: RecordClass<RecordVersion>): AnyReader {
    this.readers ??= this.found();
    const reader = this.readers.get(entity);
    if (reader === undefined) throw new Error(`nothing reads records of ${entity.name}`);
    return reader;
  }

  private found(): ReadonlyMap<RecordClass<RecordVersion>, AnyReader> {
    const instances = this.discovery.getProviders().map(({ instance }): unknown => instance);
    const readers = instances.filter((instance): instance is AnyReader => instance instanceof RecordsReader);
    return new Map(readers.map((reader) => [reader.entity, reader]));
  }
}
