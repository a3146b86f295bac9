import type { DemoSignIn } from './demo.js';

export interface Started {
  readonly url: string;
  readonly logPlace: string;
  readonly signIns: readonly DemoSignIn[];
  /** Path of a question worth asking of the demo. */
  readonly question: string;
  /** True when nobody could sign in yet. */
  readonly nobody: boolean;
}

/** What is printed at the start: where it runs, who can sign in, what to do next. */
export function greeting({ url, logPlace, signIns, question, nobody }: Started): string {
  const lines = [`Everymetre runs at ${url}`, `API document      ${url}/docs`, `Log               ${logPlace}`];
  if (signIns.length > 0) lines.push('', ...signInLines(signIns));
  lines.push('', ...nextStep(url, signIns, question, nobody));
  return `${lines.join('\n')}\n`;
}

/** Who can sign in to the demo, with which password. */
export function signInLines(signIns: readonly DemoSignIn[]): string[] {
  const width = Math.max(...signIns.map(({ signInName }) => signInName.length));
  const lines = signIns.map(({ signInName, password, roles }) => `  ${signInName.padEnd(width)}  ${password}  (${roles.join(', ')})`);
  return ['Demo sign-ins:', ...lines];
}

function nextStep(url: string, signIns: readonly DemoSignIn[], question: string, nobody: boolean): string[] {
  if (nobody) {
    return ['Nobody can sign in yet. Stop the program, then make the first administrator:', '  npm run admin -- --name "Their Name" --sign-in name'];
  }
  const reader = signIns.find(({ roles }) => roles.includes('auditor')) ?? signIns[0];
  const body = JSON.stringify({ name: reader?.signInName ?? 'NAME', password: reader?.password ?? 'PASSWORD' });
  const signIn = `curl -s ${url}/api/sign-in -H 'content-type: application/json' -d '${body}'`;
  if (reader === undefined) return ['Next, sign in:', `  ${signIn}`];
  return [
    'Next, as the auditor, ask what stands at 212.0 to 214.5 m, in both walls:',
    `  TOKEN=$(${signIn} | sed 's/.*"token":"\\([^"]*\\).*/\\1/')`,
    `  curl -s '${url}${question}' -H "authorization: Bearer $TOKEN"`,
  ];
}
