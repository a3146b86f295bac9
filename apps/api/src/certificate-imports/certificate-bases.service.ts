import { Injectable } from '@nestjs/common';
import { refusedField } from '../http/problem.js';
import { StripOrdersService } from '../orders/strip-orders.service.js';
import { StripSpecificationsService } from '../specifications/strip-specifications.service.js';
import type { Basis } from './paper-verdicts.js';

/** More orders than any file should print; what is beyond is looked up again. */
const ORDERS_KEPT = 10_000;

/** What the papers of some orders are held against, by order number; null where nothing follows from the order. */
export type BasesOf = (orderNumbers: readonly (string | null)[]) => Promise<(orderNumber: string | null) => Basis | null>;

/** Finds what the papers of a file are held against: the revision named for it, or the one each printed order was ordered to. */
@Injectable()
export class CertificateBases {
  constructor(
    private readonly orders: StripOrdersService,
    private readonly specifications: StripSpecificationsService,
  ) {}

  /** For one file: looks each order up once. Refuses with 404 when a revision is named that there is not, with 422 when it is void. */
  async forFile(specificationId: string | null): Promise<BasesOf> {
    const named = specificationId === null ? null : await this.specifications.row(specificationId, null);
    if (named?.state === 'void') throw refusedField('unknown-reference', 'specificationId', named.id, 'a specification revision that is not void');
    const withoutOrder = named === null ? null : { specification: named, ordered: null };
    const known = new Map<string, Basis | null>();
    return async (orderNumbers) => {
      if (known.size > ORDERS_KEPT) known.clear();
      const asked = [...new Set(orderNumbers.filter((number) => number !== null))].filter((number) => !known.has(number));
      for (const [number, basis] of await this.basesOf(asked, named)) known.set(number, basis);
      return (orderNumber) => (orderNumber === null ? withoutOrder : (known.get(orderNumber) ?? withoutOrder));
    };
  }

  private async basesOf(numbers: readonly string[], named: Basis['specification'] | null): Promise<Map<string, Basis | null>> {
    if (numbers.length === 0) return new Map();
    const orders = await this.orders.withNumbers(numbers);
    const specifications = await this.specifications.rowsByIds(orders.map(({ specificationId }) => specificationId), null);
    const byNumber = new Map(orders.map((order) => [order.number.toUpperCase(), order]));
    return new Map(numbers.map((number) => {
      const order = byNumber.get(number.toUpperCase());
      const specification = named ?? (order === undefined ? undefined : specifications.get(order.specificationId));
      return [number, order === undefined || specification === undefined ? null : { specification, ordered: order }];
    }));
  }
}
