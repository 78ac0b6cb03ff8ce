import type { Parsed } from '@taptrue/protocol';

/** A whole number as it was typed; why not, with the name of the box. */
export function wholeNumber(
  text: string,
  name: string,
  least: number,
  most: number,
): Parsed<number> {
  const value = Number(text.trim());
  if (/^\d+$/.test(text.trim()) && value >= least && value <= most) return { ok: true, value };
  return {
    ok: false,
    why: `The ${name} is a whole number from ${least} to ${most}, not "${text.trim()}".`,
  };
}

const HOST = /^([a-z0-9._-]+|\[[0-9a-f:]+\])(?::(\d{1,5}))?$/i;

/** `host` or `host:port` as it was typed. */
export function hostAndPort(
  text: string,
  usualPort: number,
): Parsed<{ host: string; port: number }> {
  const match = HOST.exec(text.trim());
  if (match === null) {
    return { ok: false, why: 'Type the address on the network, such as 192.168.1.20.' };
  }
  const port = match[2] === undefined ? usualPort : Number(match[2]);
  if (port < 1 || port > 65535) {
    return { ok: false, why: `${port} is not a network port; 1 to 65535 are.` };
  }
  return { ok: true, value: { host: match[1]!.replace(/^\[|\]$/g, ''), port } };
}
