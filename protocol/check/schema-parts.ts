import Type from 'typebox';

/** Objects of the schema name all they hold: a misspelt field is refused, not passed over. */
export const closed = { additionalProperties: false } as const;

/** Absent is said with null, never with zero or by leaving out. */
export const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
