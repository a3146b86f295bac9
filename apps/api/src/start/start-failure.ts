import { EmbeddedPostgresError } from '#libs/persistence';
import { ConfigurationError, type Configuration } from '../configuration.js';
import { Refused } from '../http/problem.js';

/** Why the program does not start; the message is one line. */
export class StartFailure extends Error {}

const SAYINGS: Readonly<Record<string, (configuration: Configuration, message: string) => string>> = {
  EADDRINUSE: ({ port, host }) => `Port ${port} on ${host} is taken: stop the program that has it, or set PORT to another one.`,
  EACCES: (_, message) => `Not permitted: ${message}.`,
  EADDRNOTAVAIL: ({ host }) => `HOST is "${host}", which is no address of this machine.`,
  ECONNREFUSED: (_, message) => `The database server of DATABASE_URL does not answer (${message}): is it running?`,
  ENOTFOUND: (_, message) => `The database server of DATABASE_URL is not known (${message}).`,
  EAI_AGAIN: (_, message) => `The database server of DATABASE_URL is not known (${message}).`,
  ETIMEDOUT: (_, message) => `The database server of DATABASE_URL does not answer (${message}).`,
  '28P01': (_, message) => `The database server of DATABASE_URL refuses the user or password (${message}).`,
  '28000': (_, message) => `The database server of DATABASE_URL refuses the user (${message}).`,
  '3D000': (_, message) => `The database named in DATABASE_URL is not there (${message}): create it first.`,
  '42501': (_, message) => `The user of DATABASE_URL lacks a right (${message}): it must own the database and be able to create roles.`,
};

/** The one line to show for whatever kept the program from starting. */
export function startFailureLine(error: unknown, configuration: Configuration | null): string {
  const known = [StartFailure, ConfigurationError, EmbeddedPostgresError, Refused].some((type) => error instanceof type);
  const { code, message } = causeOf(error);
  const saying = configuration === null || known ? undefined : SAYINGS[code];
  const line = saying === undefined || configuration === null ? message : saying(configuration, message);
  return line.replaceAll(/\s+/g, ' ').trim();
}

/** Node hides the reason of a failed connection in a list when it tried several addresses. */
function causeOf(error: unknown): { code: string; message: string } {
  const { errors } = (error ?? {}) as { errors?: unknown };
  const first: unknown = Array.isArray(errors) && errors.length > 0 ? errors[0] : error;
  const { code, message } = (first ?? {}) as { code?: unknown; message?: unknown };
  return {
    code: typeof code === 'string' ? code : '',
    message: typeof message === 'string' && message !== '' ? message : String(first),
  };
}
