import { MessageChannel } from 'node:worker_threads';

/** Leads nowhere: what is passed to it is gone. */
const { port1: nowhere } = new MessageChannel();
nowhere.close();

/**
 * Gives back the memory of arrays, each with one of its own, that nobody will read again. The collector would come to it only after as much more was taken, and looks through
 * everything else each time it does. What lies in it is empty afterwards.
 */
export const freeNow = (arrays: readonly ArrayBufferView[]): void => { nowhere.postMessage(null, arrays.map(({ buffer }) => buffer as ArrayBuffer)); };
