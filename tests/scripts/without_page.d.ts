// What the pure scripts may use beside the language itself; they are compiled without the library of the page.
declare class TextEncoder {
  encode(text: string): Uint8Array;
}
