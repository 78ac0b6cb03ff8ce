import { readFileSync } from 'node:fs';
import { validateXML } from 'xmllint-wasm';

export type DocumentKind = 'streams' | 'devices' | 'error';

/** What each of the documents has wrong by the schema of its kind (SOURCE.md says which); nothing: it is valid. */
export async function faultsOf(kind: DocumentKind, texts: readonly string[]): Promise<string[][]> {
  const names = texts.map((_text, index) => `${kind}-${index}.xml`);
  const { errors } = await validateXML({
    xml: texts.map((contents, index) => ({ fileName: names[index]!, contents })),
    schema: [readFileSync(new URL(`./${kind}.xsd`, import.meta.url), 'utf8')],
  });
  const said = errors.map(({ rawMessage }) => rawMessage);
  // A fault of the schema itself names no document: it is a fault of all.
  const ofSchema = said.filter((line) => !names.some((name) => line.startsWith(name)));
  return names.map((name) => [...said.filter((line) => line.startsWith(name)), ...ofSchema]);
}
