import { SetMetadata, type CustomDecorator } from '@nestjs/common';
import type { Permission } from './permissions.js';

export const ALLOWED = 'everymetre:allowed';

/** Names what a caller must be permitted to reach this route; a route without it does not start. */
export const Allow = (permission: Permission): CustomDecorator => SetMetadata(ALLOWED, permission);

/** Opens a route to everybody, signed in or not. */
export const AllowEveryone = (): CustomDecorator => SetMetadata(ALLOWED, 'everyone');
