import { Injectable } from '@nestjs/common';
import { StripOrdersService } from '../orders/strip-orders.service.js';
import { StripSpecificationsService } from '../specifications/strip-specifications.service.js';
import type { Basis } from './paper-verdicts.js';

/** Finds what the papers of a file are held against: the revision named for it, or the one each printed order was ordered to. */
@Injectable()
export class CertificateBases {
  constructor(
    private readonly orders: StripOrdersService,
    private readonly specifications: StripSpecificationsService,
  ) {}

  /** Looks each order number up once. Refuses with 404 when a revision is named that there is not. */
  async lookup(specificationId: string | null): Promise<(orderNumber: string | null) => Promise<Basis | null>> {
    const named = specificationId === null ? null : await this.specifications.row(specificationId, null);
    const known = new Map<string, Promise<Basis | null>>();
    return (orderNumber) => {
      const key = orderNumber ?? '';
      const found = known.get(key) ?? this.basisOf(orderNumber, named);
      if (known.size < 10_000) known.set(key, found);
      return found;
    };
  }

  private async basisOf(orderNumber: string | null, named: Basis['specification'] | null): Promise<Basis | null> {
    const order = orderNumber === null ? null : await this.orders.withNumber(orderNumber);
    const specification = named ?? (order === null ? null : await this.specifications.row(order.specificationId, null));
    return specification === null ? null : { specification, ordered: order };
  }
}
