import autocannon from 'autocannon';

/** One stretch of load on one server. */
export interface Window {
  readonly perSecond: number;
  readonly p99Ms: number;
  readonly failures: number;
}

export interface Load {
  readonly url: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly method?: 'GET' | 'POST';
  /** A new body for each request. */
  readonly body?: () => string;
  /** A new path and query for each request, in place of the URL's. */
  readonly path?: () => string;
}

const CONNECTIONS = 8;

/** Sends requests over eight connections, each as soon as the one before is answered, for `seconds`. */
export async function loadFor(seconds: number, load: Load): Promise<Window> {
  const { body, path } = load;
  const result = await autocannon({
    url: load.url,
    connections: CONNECTIONS,
    duration: seconds,
    method: load.method ?? 'GET',
    headers: { ...load.headers, ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
    requests: [
      {
        setupRequest: (request) => ({
          ...request,
          ...(body === undefined ? {} : { body: body() }),
          ...(path === undefined ? {} : { path: path() }),
        }),
      },
    ],
  });
  return { perSecond: result.requests.average, p99Ms: result.latency.p99, failures: result.non2xx + result.errors };
}

export interface Comparison {
  readonly baseline: Window;
  readonly program: Window;
  /** Program over baseline, of the medians. */
  readonly rateRatio: number;
  readonly p99Ratio: number;
}

/** The middle one of an odd number of values. */
export const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

function middle(windows: readonly Window[]): Window {
  return {
    perSecond: median(windows.map(({ perSecond }) => perSecond)),
    p99Ms: median(windows.map(({ p99Ms }) => p99Ms)),
    failures: windows.reduce((sum, { failures }) => sum + failures, 0),
  };
}

/** Turns about between the two, so that a noisy machine disturbs both alike; the medians are compared. */
export async function compare(baseline: Load, program: Load, rounds: number, seconds: number): Promise<Comparison> {
  await loadFor(2, baseline);
  await loadFor(3, program);
  const windows = { baseline: [] as Window[], program: [] as Window[] };
  for (let round = 0; round < rounds; round += 1) {
    windows.baseline.push(await loadFor(seconds, baseline));
    windows.program.push(await loadFor(seconds, program));
  }
  const [bare, whole] = [middle(windows.baseline), middle(windows.program)];
  return {
    baseline: bare,
    program: whole,
    rateRatio: whole.perSecond / bare.perSecond,
    p99Ratio: whole.p99Ms / bare.p99Ms,
  };
}
