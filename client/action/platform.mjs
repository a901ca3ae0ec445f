// The platform's interface, as far as the action needs it.

const address = process.env.GITHUB_API_URL ?? 'https://api.github.com';

/** Whose comments are ours: anybody may write one that looks like it. */
const author = 'github-actions[bot]';

/** The first line of the one comment. */
const mark = '<!-- wattwright: what this change does -->';

/** A comment may hold 65,536 characters. */
export const commentLength = 60_000;

export async function call(method, route, body) {
  const response = await fetch(
    route.startsWith('https://') || route.startsWith('http://') ? route : `${address}${route}`,
    {
      method,
      headers: {
        accept: 'application/vnd.github+json',
        authorization: `Bearer ${process.env.INPUT_TOKEN ?? ''}`,
        'user-agent': 'wattwright',
        'x-github-api-version': '2022-11-28',
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    },
  );
  if (!response.ok) throw new Error(`${method} ${new URL(response.url).pathname} was answered with ${response.status}`);
  return response;
}

export function repository() {
  const name = process.env.GITHUB_REPOSITORY ?? '';
  if (!/^[\w.-]+\/[\w.-]+$/.test(name)) throw new Error('GITHUB_REPOSITORY names no repository');
  return name;
}

/** Updates the comment that is there, or posts it; never a second one. Where there is nothing to say it posts none. */
export async function keepComment(number, markdown, isWorthPosting) {
  const own = await findComment(number);
  const body = `${mark}\n${markdown}`;
  if (own !== undefined) await call('PATCH', `/repos/${repository()}/issues/comments/${own}`, { body });
  else if (isWorthPosting) await call('POST', `/repos/${repository()}/issues/${number}/comments`, { body });
}

async function findComment(number) {
  for (let page = 1; page <= 50; page++) {
    const route = `/repos/${repository()}/issues/${number}/comments?per_page=100&page=${page}`;
    const comments = await (await call('GET', route)).json();
    const own = comments.find(({ body, user }) => user?.login === author && body?.startsWith(mark));
    if (own !== undefined) return own.id;
    if (comments.length < 100) return undefined;
  }
  return undefined;
}
