import type { DemoSignIn } from './demo.js';

export interface Started {
  readonly url: string;
  readonly logPlace: string;
  readonly signIns: readonly DemoSignIn[];
  /** True when nobody could sign in yet. */
  readonly nobody: boolean;
}

/** What is printed at the start: where it runs, who can sign in, what to do next. */
export function greeting({ url, logPlace, signIns, nobody }: Started): string {
  const lines = [`Everymetre runs at ${url}`, `API document      ${url}/docs`, `Log               ${logPlace}`];
  if (signIns.length > 0) lines.push('', ...signInLines(signIns));
  lines.push('', ...nextStep(url, signIns[0], nobody));
  return `${lines.join('\n')}\n`;
}

/** Who can sign in to the demo, with which password. */
export function signInLines(signIns: readonly DemoSignIn[]): string[] {
  const width = Math.max(...signIns.map(({ signInName }) => signInName.length));
  const lines = signIns.map(({ signInName, password, roles }) => `  ${signInName.padEnd(width)}  ${password}  (${roles.join(', ')})`);
  return ['Demo sign-ins:', ...lines];
}

function nextStep(url: string, demo: DemoSignIn | undefined, nobody: boolean): string[] {
  if (demo === undefined && nobody) {
    return ['Nobody can sign in yet. Stop the program, then make the first administrator:', '  npm run admin -- --name "Their Name" --sign-in name'];
  }
  const body = JSON.stringify({ name: demo?.signInName ?? 'NAME', password: demo?.password ?? 'PASSWORD' });
  return ['Next, sign in:', `  curl -s ${url}/api/sign-in -H 'content-type: application/json' -d '${body}'`];
}
