import { cpus, freemem, release, totalmem } from 'node:os';

/** What of this machine bears on a fault; nothing that tells whose it is. */
export function systemFacts(): [name: string, value: string][] {
  const groups = process.getgroups?.() ?? null;
  return [
    ['system', `${process.platform} ${release()} ${process.arch}`],
    ['node', process.version],
    ['processors', String(cpus().length)],
    ['memory', `${Math.round(freemem() / 1e6)} of ${Math.round(totalmem() / 1e6)} MB free`],
    ['language', Intl.DateTimeFormat().resolvedOptions().locale],
    ['groups of this user', groups === null ? 'not known on this system' : groups.join(', ')],
    ['administrator', process.getuid?.() === 0 ? 'yes' : 'no'],
  ];
}
