// Types of what we use of the library, written by us: its own lean on further packages.

export interface ReaderOptions {
  formats?: string[];
  maxNumberOfSymbols?: number;
  tryHarder?: boolean;
  tryRotate?: boolean;
  tryInvert?: boolean;
  tryDenoise?: boolean;
  textMode?: 'Plain';
}
export interface ReadResult {
  isValid: boolean;
  text: string;
}
export function prepareZXingModule(options: {
  overrides: { locateFile(path: string, prefix: string): string } | { wasmBinary: ArrayBuffer };
  fireImmediately: true;
}): Promise<unknown>;
export function readBarcodes(
  image: { data: Uint8ClampedArray; width: number; height: number },
  options: ReaderOptions,
): Promise<ReadResult[]>;
