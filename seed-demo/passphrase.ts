import { randomInt } from 'node:crypto';

const WORDS = [
  'amber', 'anvil', 'apron', 'arch', 'autumn', 'badger', 'barley', 'basin', 'beacon', 'birch', 'bridge', 'bronze', 'bucket', 'candle',
  'canvas', 'carbon', 'cedar', 'chalk', 'cherry', 'cinder', 'circle', 'clay', 'clover', 'coffee', 'comet', 'copper', 'coral', 'cotton',
  'cradle', 'crane', 'cricket', 'crystal', 'dairy', 'damson', 'desk', 'drum', 'eagle', 'easel', 'elbow', 'ember', 'falcon', 'fennel',
  'ferry', 'fiddle', 'flint', 'forest', 'fossil', 'garden', 'garnet', 'ginger', 'glacier', 'granite', 'hammer', 'harbour', 'harvest',
  'hazel', 'helmet', 'heron', 'hollow', 'honey', 'island', 'ivory', 'jacket', 'jasmine', 'kettle', 'ladder', 'lagoon', 'lantern', 'lemon',
  'linen', 'lobster', 'magnet', 'maple', 'marble', 'meadow', 'mirror', 'mitten', 'moss', 'mountain', 'nettle', 'nickel', 'north', 'oasis',
  'olive', 'onion', 'orchard', 'otter', 'oyster', 'paddle', 'pebble', 'pepper', 'pigeon', 'pillow', 'plaster', 'pocket', 'pond', 'poplar',
  'quarry', 'quilt', 'rabbit', 'raven', 'ribbon', 'river', 'rocket', 'saddle', 'sailor', 'saffron', 'salmon', 'sandal', 'shadow', 'silver',
  'sparrow', 'spindle', 'spring', 'summit', 'sunday', 'teapot', 'thistle', 'timber', 'tunnel', 'valley', 'velvet', 'violin', 'walnut',
  'whistle', 'willow', 'window', 'winter', 'yellow',
] as const;
const LENGTH = 6;

/** Six words drawn at random: a demo left running must not be open to whoever read about it. */
export function newPassphrase(): string {
  return Array.from({ length: LENGTH }, () => WORDS[randomInt(WORDS.length)] ?? WORDS[0]).join(' ');
}
