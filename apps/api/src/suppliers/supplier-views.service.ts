import { Injectable } from '@nestjs/common';
import { inTurns } from './in-turns.js';
import { supplierAnswer } from './supplier-answer.js';
import { SupplierKnowledges } from './supplier-knowledge.service.js';
import type { SupplierQuestion } from './supplier-question.js';
import type { SupplierViewAnswer } from './supplier-view.dto.js';

/** Answers how the coils of a mill turned out. */
@Injectable()
export class SupplierViews {
  constructor(private readonly knowledges: SupplierKnowledges) {}

  async of(question: SupplierQuestion): Promise<SupplierViewAnswer> {
    return inTurns(supplierAnswer(question, await this.knowledges.of(question)));
  }
}
