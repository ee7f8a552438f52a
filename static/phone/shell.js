// Is the app itself on the phone, and is there a newer one?  The page's side of the service worker (/sw.js).
//
// A new version waits until the person says so: never under a half-cut board.

/** `ready`: every file of the shell is in the cache; `missing` names those that are not; `waiting`: a newer version is here.
 * @typedef {{version: string, ready: boolean, missing: string[], waiting: boolean, trouble: string}} Shell */

/** @param {() => void} onChange */
export function shellKeeper(onChange) {
  /** @type {Shell} */
  const shell = { version: '', ready: false, missing: [], waiting: false, trouble: '' };
  /** @type {ServiceWorkerRegistration | undefined} */
  let registration;

  /** @param {ServiceWorker | null} worker */
  function follow(worker) {
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'redundant' && !registration?.active) shell.trouble = 'The app could not be kept on this phone.';
      void look();
    });
  }

  /** See where things stand: each start asks again, so that "later" never means never. */
  async function look() {
    shell.waiting = Boolean(registration?.waiting && registration.active);
    const active = registration?.active;
    if (active) {
      const { version, missing } = await ask(active);
      Object.assign(shell, { version, missing, ready: missing.length === 0 });
      if (shell.ready) shell.trouble = '';
    }
    onChange();
  }

  return {
    shell,
    async start() {
      if (!('serviceWorker' in navigator)) {
        shell.trouble = 'This browser cannot keep the app for times without a signal.';
        return onChange();
      }
      let controlled = Boolean(navigator.serviceWorker.controller);
      navigator.serviceWorker.addEventListener('controllerchange', () => {
        // The first worker takes a page that has the same files already; only a change of version loads it anew.
        if (controlled) location.reload();
        controlled = true;
      });
      try {
        registration = await navigator.serviceWorker.register('/sw.js', { scope: '/', updateViaCache: 'none' });
      } catch {
        registration = await navigator.serviceWorker.getRegistration();
        if (!registration) shell.trouble = 'The app could not be kept on this phone.';
      }
      follow(registration?.installing ?? registration?.waiting ?? null);
      registration?.addEventListener('updatefound', () => follow(registration?.installing ?? null));
      return look();
    },
    look,
    /** Let the waiting version take over; the page loads anew. */
    use() {
      registration?.waiting?.postMessage('use');
    },
    /** Ask the server whether there is a newer version. */
    async refresh() {
      await registration?.update().catch(() => undefined);
    },
  };
}

/** @param {ServiceWorker} worker @returns {Promise<{version: string, missing: string[]}>} */
function ask(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    worker.postMessage('ready', [port2]);
  });
}
