import fc from 'fast-check';
import type { SurveyStation, SurveyTieIn } from '#libs/survey';

/** How inclination and azimuth change from one station to the next, and how far apart the two lie. */
interface Step {
  lengthMm: number;
  buildDeg: number;
  turnDeg: number;
}

/** Kept, straight and turned courses: a horizontal start followed by `level` steps stays level. */
const step: fc.Arbitrary<Step> = fc.record({
  lengthMm: fc.integer({ min: 1_000, max: 60_000 }),
  buildDeg: fc.oneof(fc.constant(0), fc.double({ min: -8, max: 8, noNaN: true }), fc.integer({ min: -8, max: 8 })),
  turnDeg: fc.oneof(fc.constant(0), fc.double({ min: -15, max: 15, noNaN: true })),
});

function stationsFrom(inclinationDeg: number, azimuthDeg: number, steps: readonly Step[]): SurveyStation[] {
  const stations: SurveyStation[] = [{ mdMm: 2_500, inclinationDeg, azimuthDeg }];
  let above = { mdMm: 2_500, inclinationDeg, azimuthDeg };
  for (const { lengthMm, buildDeg, turnDeg } of steps) {
    above = {
      mdMm: above.mdMm + lengthMm,
      inclinationDeg: Math.min(Math.max(above.inclinationDeg + buildDeg, 0), 180),
      azimuthDeg: (above.azimuthDeg + turnDeg + 360) % 360,
    };
    stations.push(above);
  }
  return stations;
}

/** A path that enters at 75 to 85 degrees, crosses 90 within a few stations and then wanders. */
export const crossingStations: fc.Arbitrary<SurveyStation[]> = fc
  .record({
    inclinationDeg: fc.oneof(fc.integer({ min: 75, max: 85 }), fc.double({ min: 75, max: 85, noNaN: true })),
    azimuthDeg: fc.double({ min: 0, max: 360, noNaN: true }),
    crossing: fc.record({
      lengthMm: fc.integer({ min: 20_000, max: 200_000 }),
      buildDeg: fc.integer({ min: 5, max: 20 }),
      turnDeg: fc.integer({ min: -20, max: 20 }),
    }),
    steps: fc.array(step, { minLength: 1, maxLength: 10 }),
  })
  .map(({ inclinationDeg, azimuthDeg, crossing, steps }) => {
    const past = { ...crossing, buildDeg: 90 - inclinationDeg + crossing.buildDeg - 5 };
    return stationsFrom(inclinationDeg, azimuthDeg, [past, ...steps]);
  });

/** Any path, from vertical to upside down, with doglegs up to near a half turn. */
export const anyStations: fc.Arbitrary<SurveyStation[]> = fc
  .record({
    inclinationDeg: fc.oneof(fc.integer({ min: 0, max: 180 }), fc.double({ min: 0, max: 180, noNaN: true })),
    azimuthDeg: fc.integer({ min: 0, max: 360 }),
    steps: fc.array(
      fc.record({
        lengthMm: fc.integer({ min: 1, max: 300_000 }),
        buildDeg: fc.oneof(fc.constant(0), fc.integer({ min: -60, max: 60 }), fc.double({ min: -60, max: 60, noNaN: true })),
        turnDeg: fc.oneof(fc.constant(0), fc.integer({ min: -100, max: 100 })),
      }),
      { minLength: 1, maxLength: 12 },
    ),
  })
  .map(({ inclinationDeg, azimuthDeg, steps }) => stationsFrom(inclinationDeg, azimuthDeg, steps));

/** The position of a first station, within 10 km of the origin. */
export const tieIn: fc.Arbitrary<SurveyTieIn> = fc.record({
  northMm: fc.integer({ min: -10_000_000, max: 10_000_000 }),
  eastMm: fc.integer({ min: -10_000_000, max: 10_000_000 }),
  tvdMm: fc.integer({ min: -100_000, max: 10_000_000 }),
});

/** A fraction of some range, its ends included. */
export const fraction: fc.Arbitrary<number> = fc.double({ min: 0, max: 1, noNaN: true });
