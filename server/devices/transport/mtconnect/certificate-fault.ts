import type { Fault } from '@taptrue/protocol';
import type { AgentNames } from './mtconnect-faults.ts';

const TRUST =
  'If it is your own agent: save its certificate, or that of whoever signed it, as a PEM file and start Taptrue with the variable NODE_EXTRA_CA_CERTS set to the path of that file. It is not read without.';

/** What the system says of a certificate it does not accept, and what to do about each. Node's documentation of TLS. */
const REASONS: Readonly<Record<string, { why: string; remedy: string }>> = {
  DEPTH_ZERO_SELF_SIGNED_CERT: { why: 'it has signed it itself', remedy: TRUST },
  SELF_SIGNED_CERT_IN_CHAIN: {
    why: 'it is signed by somebody this computer does not know',
    remedy: TRUST,
  },
  UNABLE_TO_VERIFY_LEAF_SIGNATURE: { why: 'whoever signed it is not known here', remedy: TRUST },
  UNABLE_TO_GET_ISSUER_CERT_LOCALLY: { why: 'whoever signed it is not known here', remedy: TRUST },
  CERT_HAS_EXPIRED: {
    why: 'it has run out',
    remedy: "Renew it on the agent's computer, and check the date of both computers.",
  },
  CERT_NOT_YET_VALID: {
    why: 'it does not hold yet',
    remedy: 'Check the date of both computers.',
  },
  ERR_TLS_CERT_ALTNAME_INVALID: {
    why: 'it is made out to another name',
    remedy: 'Use the name it is made out to as the address, or have it made out to this one.',
  },
};

/** What an agent that speaks plain HTTP looks like to one who expects https, by system and version. */
const NO_HTTPS = ['ERR_SSL_WRONG_VERSION_NUMBER', 'ERR_SSL_PACKET_LENGTH_TOO_LONG', 'EPROTO'];

/** Why https did not come about; null: it was something else. */
export function certificateFault(names: AgentNames, error: unknown): Fault | null {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const reason = REASONS[code];
  if (reason) {
    return {
      code: 'mtconnect-certificate',
      what: `The certificate of the agent at ${names.title} is not accepted: ${reason.why}.`,
      got: code,
      remedy: reason.remedy,
    };
  }
  if (!NO_HTTPS.includes(code)) return null;
  return {
    code: 'mtconnect-no-https',
    what: `What answers at ${names.title} does not speak https.`,
    got: code,
    remedy:
      'Leave the s away (http://), or look up the port number on which the agent speaks https.',
  };
}
