/** The wire format of server-sent events, by the HTML Living Standard, 9.2.5 and 9.2.6 (parsing and interpreting an event stream). */

export interface ServerSentEvent {
  readonly event: string;
  /** What a client that connects again sends as `Last-Event-ID`. */
  readonly id?: string;
  /** Answered as JSON, which has no line breaks of its own. */
  readonly data: object;
}

export const EVENT_STREAM = 'text/event-stream';

export function eventText({ event, id, data }: ServerSentEvent): string {
  const name = id === undefined ? '' : `id: ${id}\n`;
  return `${name}event: ${event}\ndata: ${JSON.stringify(data)}\n\n`;
}

/** After how long a client connects again. */
export const retryText = (ms: number): string => `retry: ${ms}\n\n`;

/** What every client passes over. */
export const commentText = (words: string): string => `: ${words}\n\n`;
