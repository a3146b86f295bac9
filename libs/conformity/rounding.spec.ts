import { describe, expect, test } from '@jest/globals';
import { decimal } from '#libs/exact';
import { asRounded, beforeRounding } from './rounding.js';
import { closedZone, type Zone } from './zone.js';

const zone = (low: string | null, high: string | null, lowOpen = false, highOpen = false): Zone => ({
  low: low && decimal(low), high: high && decimal(high), lowOpen, highOpen,
}) as Zone;

describe('asRounded', () => {
  test('both ends go to the nearest, half to even', () => {
    expect(asRounded(zone('0.0254', '0.0265'), 3)).toEqual(zone('0.025', '0.026'));
    expect(asRounded(zone('0.0255', '0.0255'), 3)).toEqual(zone('0.026', '0.026'));
    expect(asRounded(zone('14525', '14525'), -1)).toEqual(zone('14520', '14520'));
  });

  test('an open end closes on what the values just short of it round to', () => {
    expect(asRounded(zone(null, '0.0255', false, true), 3)).toEqual(zone(null, '0.025'));
    expect(asRounded(zone(null, '0.001', false, true), 3)).toEqual(zone(null, '0.001'));
    expect(asRounded(zone('0.0265', null, true), 3)).toEqual(zone('0.027', null));
  });
});

describe('beforeRounding', () => {
  test('reaches half a unit past the limit; the tie belongs to it where it rounds to the even limit', () => {
    expect(beforeRounding(closedZone(decimal('0.02'), decimal('0.04')), 2, 2)).toEqual(zone('0.015', '0.045'));
    expect(beforeRounding(closedZone(decimal('0.03'), decimal('0.05')), 2, 2)).toEqual(zone('0.025', '0.055', true, true));
  });

  test('a limit between two places counts from the place inside it', () => {
    expect(beforeRounding(closedZone(decimal('9.21'), decimal('10.79')), 1, 1)).toEqual(zone('9.25', '10.75', true, true));
  });

  test('each end has its own place; without one nothing moves', () => {
    expect(beforeRounding(closedZone(decimal('0.2'), decimal('0.50')), 1, 2)).toEqual(zone('0.15', '0.505'));
    expect(beforeRounding(closedZone(decimal('0.2'), null), null, null)).toEqual(zone('0.2', null));
  });
});
