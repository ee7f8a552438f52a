// What the browsers offer and TypeScript's DOM library does not name, or names only for workers: just what we use.

interface ExtendableEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}

interface InstallEvent extends ExtendableEvent {
  /** Static routing, where it is there. */
  addRoutes?(rules: { condition: { urlPattern: string }; source: { cacheName: string } }[]): Promise<void>;
}

interface FetchEvent extends ExtendableEvent {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

interface ExtendableMessageEvent extends ExtendableEvent {
  readonly data: unknown;
  readonly ports: readonly MessagePort[];
}

interface WindowClient {
  postMessage(message: unknown): void;
}

interface ServiceWorkerGlobalScope {
  readonly location: Location;
  readonly clients: { claim(): Promise<void>; matchAll(options: { type: 'window' }): Promise<WindowClient[]> };
  skipWaiting(): Promise<void>;
  addEventListener(type: 'install', listener: (event: InstallEvent) => void): void;
  addEventListener(type: 'activate' | 'sync', listener: (event: ExtendableEvent) => void): void;
  addEventListener(type: 'fetch', listener: (event: FetchEvent) => void): void;
  addEventListener(type: 'message', listener: (event: ExtendableMessageEvent) => void): void;
}

interface ServiceWorkerRegistration {
  /** Background Sync, where it is there. */
  readonly sync?: { register(tag: string): Promise<void> };
}

interface Navigator {
  /** iOS: true in an app on the home screen, false in a browser tab; missing elsewhere. */
  readonly standalone?: boolean;
}

interface BeforeInstallPromptEvent extends Event {
  prompt(): Promise<unknown>;
}

interface WindowEventMap {
  beforeinstallprompt: BeforeInstallPromptEvent;
}
