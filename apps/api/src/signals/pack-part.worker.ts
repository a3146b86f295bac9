/** Reads and packs parts of uploads in a thread of its own, one after another. */
import { serveOrders } from '../threads/thread-answer.js';
import { packPart } from './pack-part.js';

serveOrders(packPart, ({ bodies, cells }) => [bodies.buffer, cells.buffer]);
