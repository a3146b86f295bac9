import { LONGEST_PASSWORD } from '../access/password-rules.js';
import { Text } from '../http/fields.js';

/** Takes back what was signed. */
export class SignedWithdrawalInput {
  @Text({ description: 'Why.', example: 'Signed by mistake: the wrong interval', max: 2000, min: 3 })
  reason!: string;

  @Text({ description: "The signer's secret, entered again for this signature.", example: 'nine coils stayed dry', max: LONGEST_PASSWORD * 4 })
  secret!: string;
}
