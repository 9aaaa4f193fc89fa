/* A value that can be watched. */
export class Cell<T> {
  private watchers = new Set<() => void>();
  constructor(private value: T) {}
  get(): T {
    return this.value;
  }
  set(v: T) {
    if (v === this.value) return;
    this.value = v;
    this.watchers.forEach((w) => w());
  }
  watch(w: () => void): () => void {
    this.watchers.add(w);
    return () => {
      this.watchers.delete(w);
    };
  }
}
