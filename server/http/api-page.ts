interface OpenApiLike {
  info?: { title?: string; version?: string; description?: string };
  paths?: Record<string, unknown>;
}

function escapeHtml(text: string): string {
  return text.replace(/[&<>"]/g, (mark) => `&#${mark.charCodeAt(0)};`);
}

/** A page that lists the routes and their schemas, readable without anything fetched from elsewhere. */
export function apiPage(document: OpenApiLike): string {
  const routes = Object.entries(document.paths ?? {}).flatMap(([path, methods]) =>
    Object.entries(
      methods as Record<string, { summary?: string; requestBody?: unknown; responses?: unknown }>,
    ).map(
      ([method, route]) =>
        `<h2><code>${escapeHtml(method.toUpperCase())} ${escapeHtml(path)}</code></h2><p>${escapeHtml(route.summary ?? '')}</p>` +
        (route.requestBody
          ? `<details><summary>What it takes</summary><pre>${escapeHtml(JSON.stringify(route.requestBody, null, 2))}</pre></details>`
          : '') +
        `<details><summary>What it answers</summary><pre>${escapeHtml(JSON.stringify(route.responses ?? {}, null, 2))}</pre></details>`,
    ),
  );
  return `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>${escapeHtml(document.info?.title ?? '')}</title>
<style>body{font:16px/1.5 system-ui,sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem}pre{overflow:auto;background:#f3f1ec;padding:1rem}</style>
<h1>${escapeHtml(document.info?.title ?? '')} ${escapeHtml(document.info?.version ?? '')}</h1>
<p>${escapeHtml(document.info?.description ?? '')}</p>
<p>The same as a document: <a href="/api/openapi.json">/api/openapi.json</a></p>
${routes.join('\n')}</html>`;
}
