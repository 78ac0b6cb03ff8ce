/**
 * The name a port is opened by, from what was typed. Windows: `\\.\COM12` and `com12` are COM12, also over 9.
 * macOS: the call-in name waits for a carrier that indicators never raise, the call-out name does not.
 */
export function openableName(typed: string, system: string): string {
  if (system === 'win32') {
    const com = /^(?:\\\\[.?]\\)?(com\d+):?$/i.exec(typed.trim());
    return com ? com[1]!.toUpperCase() : typed;
  }
  if (system === 'darwin') return typed.replace(/^\/dev\/tty\./, '/dev/cu.');
  return typed;
}
