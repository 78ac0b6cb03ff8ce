/** What must not leave the shop, besides what is recognised by its form. */
export interface Private {
  homeFolder: string;
  userName: string;
  hostName: string;
  /** Names given to benches, tablets and jobs. */
  names: readonly string[];
}

/** Shorter names would take every word that holds them. */
const SHORTEST_NAME = 3;

const FORMS: readonly [RegExp, string][] = [
  // usb:0403:6001:SERIAL and usb:0403:6001:SERIAL:if00-port0, as our identities are written.
  [/\b(usb:[0-9a-f]{4}:[0-9a-f]{4}):[^:\s,"';)]+/gi, '$1:(serial number)'],
  // Linux writes vendor, product and serial number into the link; Macs write the serial number into the name.
  [/(\/dev\/serial\/by-id\/)[^\s,"';)]+/g, '$1(name)'],
  [/(\/dev\/(?:cu|tty)\.usb(?:serial|modem)-?)[^\s,"';)]+/g, '$1(serial number)'],
  [/serial number [^\s,"';)]+/g, 'serial number (serial number)'],
  [/[\w.+-]+@[\w-]+\.[\w.-]+/g, '(address)'],
  [/\b(?:\d{1,3}\.){3}\d{1,3}\b/g, '(address)'],
  [/\b(?:[0-9a-f]{1,4}:){4,7}[0-9a-f]{1,4}\b/gi, '(address)'],
  [/tcp:\/\/[^\s:/,"';)]+/g, 'tcp://(address)'],
  // Tokens, their hashes, and anything as long and as meaningless; and a code of six digits.
  [/\b[0-9a-f]{24,}\b/gi, '(token)'],
  [/\b[A-Za-z0-9_-]{40,}\b/g, '(token)'],
  [/\b(code\D{0,12})\d{6}\b/gi, '$1(code)'],
  // Home folders of others, which a path may name as well.
  [/(\/(?:home|Users)\/)[^/\s"']+/g, '$1(user)'],
  [/([A-Z]:\\+Users\\+)[^\\\s"']+/gi, '$1(user)'],
];

/** The text without what is private: home folders, names, addresses, serial numbers, tokens, codes. Pure. */
export function redact(text: string, secret: Private): string {
  let safe = text;
  if (secret.homeFolder.length > 1) safe = safe.replaceAll(secret.homeFolder, '(home)');
  for (const [form, instead] of FORMS) safe = safe.replace(form, instead);
  const names: [string, string][] = [
    [secret.hostName, '(computer)'],
    [secret.userName, '(user)'],
    ...secret.names.map((name): [string, string] => [name, '(name)']),
  ];
  for (const [name, instead] of names.sort(([one], [other]) => other.length - one.length)) {
    if (name.length >= SHORTEST_NAME) safe = safe.replace(wholeWord(name), instead);
  }
  return safe;
}

function wholeWord(name: string): RegExp {
  const escaped = name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  return new RegExp(`(?<![\\p{L}\\p{N}])${escaped}(?![\\p{L}\\p{N}])`, 'giu');
}
