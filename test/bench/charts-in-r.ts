import { spawnSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type ChartFigures, READINGS, SIZE } from './charts.js';

const ROUNDS = 15;

/** The same charts in base R, by whole columns: on its standard output the figures, then processor time a round, ms. */
const SCRIPT = `
readings <- readBin(commandArgs(TRUE)[1], 'double', ${READINGS}, endian = 'little')
c4 <- sqrt(2 / ${SIZE - 1}) * gamma(${SIZE} / 2) / gamma(${SIZE - 1} / 2)
back <- function(x, by) c(logical(by), x[seq_len(length(x) - by)])
rule <- function(x, count, of) x & Reduce(\`+\`, lapply(seq_len(of) - 1, function(by) back(x, by))) >= count
either <- function(z, beyond, count, of) sum(rule(z > beyond, count, of)) + sum(rule(z < -beyond, count, of))
charted <- function() {
  groups <- matrix(readings, ${SIZE})
  means <- colMeans(groups)
  deviations <- sqrt(colSums((groups - rep(means, each = ${SIZE}))^2) / ${SIZE - 1})
  centre <- mean(means)
  spread <- mean(deviations)
  z <- (means - centre) / (spread / c4 / sqrt(${SIZE}))
  half <- 3 * sqrt(1 - c4^2) / c4 * spread
  c(centre, spread, either(z, 3, 1, 1), either(z, 2, 2, 3), either(z, 1, 4, 5), either(z, 0, 8, 8), sum(abs(deviations - spread) > half))
}
figures <- charted()
time <- system.time(for (round in seq_len(${ROUNDS})) charted())
cat(format(c(figures, 1000 * (time[['user.self']] + time[['sys.self']]) / ${ROUNDS}), digits = 17, trim = TRUE), sep = '\\n')
`;

/** With R, its figures and the processor time of a round, the mean of some after a first one; null where there is no R. */
export async function chartsInR(folder: string, readings: Float64Array): Promise<(ChartFigures & { readonly chartMs: number }) | null> {
  const [script, data] = [join(folder, 'charts.R'), join(folder, 'readings.bin')];
  await writeFile(script, SCRIPT);
  await writeFile(data, readings);
  const { error, status, stdout, stderr } = spawnSync('Rscript', ['--vanilla', script, data], { encoding: 'utf8' });
  if (error !== undefined && 'code' in error && error.code === 'ENOENT') return null;
  if (error !== undefined || status !== 0) throw error ?? new Error(stderr);
  const figures = stdout.trim().split('\n').map(Number);
  const [grandMean = NaN, meanDeviation = NaN] = figures;
  return { grandMean, meanDeviation, signals: figures.slice(2, -1), chartMs: figures.at(-1) ?? NaN };
}
