import Libsql from 'libsql';

export type Value = string | number | bigint | null | Uint8Array;
export type Row = Record<string, string | number | null | ArrayBuffer>;

/** A page of another process's commit is waited for this long; commits take milliseconds. */
const BUSY_TIMEOUT_MS = 2000;

/**
 * One connection to an SQLite file. A thin edge round the binding: values are always bound as a list, because a
 * lone buffer would be taken for named values (and ends the process), and rows come back without its extras.
 */
export class Database {
  readonly #db: InstanceType<typeof Libsql>;
  readonly #statements = new Map<string, ReturnType<InstanceType<typeof Libsql>['prepare']>>();

  /** @throws with an SQLite `code` where the file cannot be opened. */
  constructor(path: string, options: { readonly?: boolean } = {}) {
    this.#db = new Libsql(path, { readonly: options.readonly ?? false });
    this.#db.exec(`PRAGMA busy_timeout = ${BUSY_TIMEOUT_MS}`);
  }

  exec(sql: string): void {
    this.#db.exec(sql);
  }

  run(sql: string, ...values: Value[]): { changes: number; lastId: number } {
    const { changes, lastInsertRowid } = this.#prepared(sql).run(values);
    return { changes, lastId: Number(lastInsertRowid) };
  }

  all(sql: string, ...values: Value[]): Row[] {
    return this.#prepared(sql).all(values) as Row[];
  }

  get(sql: string, ...values: Value[]): Row | null {
    return this.all(sql, ...values)[0] ?? null;
  }

  /** Rows one after another, so that a long job need not be in memory at once. */
  *each(sql: string, ...values: Value[]): Generator<Row> {
    // Not kept with the others: a statement that is being walked must not be started anew.
    for (const row of this.#db.prepare(sql).iterate(values)) yield row as Row;
  }

  /** All of it or nothing. */
  inOne<T>(work: () => T): T {
    this.#db.exec('BEGIN IMMEDIATE');
    try {
      const done = work();
      this.#db.exec('COMMIT');
      return done;
    } catch (error) {
      // A full disk has rolled back already; then there is nothing left to undo.
      try {
        this.#db.exec('ROLLBACK');
      } catch {}
      throw error;
    }
  }

  close(): void {
    this.#statements.clear();
    this.#db.close();
  }

  #prepared(sql: string) {
    const known = this.#statements.get(sql);
    if (known) return known;
    const made = this.#db.prepare(sql);
    this.#statements.set(sql, made);
    return made;
  }
}

/** SQLite's own code of an error (`SQLITE_FULL`), or what else it says of itself. */
export function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && error.code
    ? String(error.code)
    : String(error);
}
