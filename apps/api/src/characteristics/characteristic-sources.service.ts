import { Inject, Injectable } from '@nestjs/common';
import type { Characteristic } from '../control-charts/control-chart-plan.js';
import type { CharacteristicSource } from './characteristic-source.js';

export const CHARACTERISTIC_SOURCES = Symbol('characteristic sources');

/** Where the readings of each characteristic come from. */
@Injectable()
export class CharacteristicSources {
  private readonly byCharacteristic: ReadonlyMap<Characteristic, CharacteristicSource>;

  constructor(@Inject(CHARACTERISTIC_SOURCES) sources: readonly CharacteristicSource[]) {
    this.byCharacteristic = new Map(sources.map((source) => [source.characteristic, source]));
  }

  /** Throws RangeError for a characteristic without a source. */
  of(characteristic: Characteristic): CharacteristicSource {
    const source = this.byCharacteristic.get(characteristic);
    if (source === undefined) throw new RangeError(`nothing gives readings of ${characteristic}`);
    return source;
  }
}
