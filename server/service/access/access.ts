import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';
import type { AccessSection, Fault, FaultCode, Role } from '@taptrue/protocol';

/** Wrong codes before the code is replaced and pairing rests: five guesses at a million codes, one chance in 200,000. */
export const PAIRING_TRIES = 5;
/** How long pairing rests after too many wrong codes. */
export const PAIRING_REST_MS = 60_000;
/** A bench has a few tablets; a seventeenth must replace one. */
export const MOST_TABLETS = 16;

/** A paired tablet as it is remembered: the token itself is only on the tablet. */
export interface RememberedTablet {
  id: string;
  name: string;
  tokenSha256: string;
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/**
 * Who may command: pages on the bench's own machine, and tablets paired by the short code shown there. All
 * others only watch. Time is an argument.
 */
export class Access {
  readonly #onChange: () => void;
  readonly #addresses: readonly string[];
  #tablets: RememberedTablet[];
  #code: string | null = null;
  #triesLeft = PAIRING_TRIES;
  #restsUntilMs = Number.NEGATIVE_INFINITY;

  /** @param addresses that reach this bench from elsewhere; empty where it listens to this machine only. */
  constructor(
    addresses: readonly string[],
    tablets: readonly RememberedTablet[],
    onChange: () => void,
  ) {
    this.#addresses = addresses;
    this.#tablets = [...tablets];
    this.#onChange = onChange;
    if (addresses.length > 0) this.#code = newCode();
  }

  get tablets(): readonly RememberedTablet[] {
    return this.#tablets;
  }

  section(): AccessSection {
    return {
      pairingCode: this.#code,
      addresses: [...this.#addresses],
      tablets: this.#tablets.map(({ id, name }) => ({ id, name })),
      triesLeft: this.#triesLeft,
    };
  }

  /** The role of a caller: from this machine, or with a token of a paired tablet. */
  role(fromThisMachine: boolean, token: string | undefined): Role {
    if (fromThisMachine) return 'bench screen';
    return token !== undefined && this.tabletOf(token) ? 'paired tablet' : 'watcher';
  }

  tabletOf(token: string): RememberedTablet | undefined {
    const given = Buffer.from(sha256(token), 'hex');
    return this.#tablets.find((tablet) =>
      timingSafeEqual(Buffer.from(tablet.tokenSha256, 'hex'), given),
    );
  }

  pair(
    code: string,
    name: string,
    nowMs: number,
  ): { ok: true; token: string } | { ok: false; fault: Fault } {
    if (this.#code === null) {
      return refuse(
        'pairing-off',
        'This bench does not take tablets.',
        'Start it with --listen to let tablets reach it.',
      );
    }
    if (nowMs < this.#restsUntilMs) {
      const seconds = Math.ceil((this.#restsUntilMs - nowMs) / 1000);
      return refuse(
        'pairing-rests',
        'Too many wrong codes.',
        `Wait ${seconds} s, then use the new code on the bench screen.`,
      );
    }
    if (code.trim() !== this.#code) {
      this.#triesLeft -= 1;
      if (this.#triesLeft <= 0) {
        this.#code = newCode();
        this.#triesLeft = PAIRING_TRIES;
        this.#restsUntilMs = nowMs + PAIRING_REST_MS;
      }
      this.#onChange();
      return refuse(
        'pairing-code-wrong',
        'That is not the code on the bench screen.',
        'Read the six digits under Devices on the bench screen and type them again.',
      );
    }
    if (this.#tablets.length >= MOST_TABLETS) {
      return refuse(
        'too-many-tablets',
        `${MOST_TABLETS} tablets are paired already.`,
        'Remove one under Devices on the bench screen.',
      );
    }
    const token = randomBytes(32).toString('base64url');
    this.#tablets.push({
      id: randomBytes(6).toString('hex'),
      name: name.trim().slice(0, 40) || 'tablet',
      tokenSha256: sha256(token),
    });
    this.#code = newCode();
    this.#triesLeft = PAIRING_TRIES;
    this.#onChange();
    return { ok: true, token };
  }

  renewCode(): void {
    if (this.#code === null) return;
    this.#code = newCode();
    this.#triesLeft = PAIRING_TRIES;
    this.#onChange();
  }

  revoke(id: string): boolean {
    const before = this.#tablets.length;
    this.#tablets = this.#tablets.filter((tablet) => tablet.id !== id);
    if (this.#tablets.length === before) return false;
    this.#onChange();
    return true;
  }
}

function newCode(): string {
  return String(randomInt(0, 1_000_000)).padStart(6, '0');
}

function refuse(code: FaultCode, what: string, remedy: string): { ok: false; fault: Fault } {
  return { ok: false, fault: { code, what, got: '', remedy } };
}
