import { readFile } from 'node:fs/promises';

const EVERY_MS = 25;

/** Looks at the resident memory of a process again and again. */
export class MemoryWatch {
  private readonly timer: NodeJS.Timeout;
  private peak = 0;

  private constructor(private readonly pid: number, readonly startMb: number) {
    this.timer = setInterval(() => { void this.look(); }, EVERY_MS);
  }

  static async on(pid: number): Promise<MemoryWatch> {
    return new MemoryWatch(pid, await residentMb(pid));
  }

  /** Ends the watch. Gives the most that was seen, MB. */
  async end(): Promise<number> {
    clearInterval(this.timer);
    await this.look();
    return this.peak;
  }

  private async look(): Promise<void> {
    this.peak = Math.max(this.peak, await residentMb(this.pid));
  }
}

/** Throws when there is no such process. */
export async function residentMb(pid: number): Promise<number> {
  const kib = /^VmRSS:\s+(\d+) kB/m.exec(await readFile(`/proc/${pid}/status`, 'utf8'))?.[1];
  if (kib === undefined) throw new Error(`process ${pid} tells nothing of its memory`);
  return Number(kib) / 1024;
}
