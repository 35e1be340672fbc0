/** onnxruntime-node 1.17 ships no types of its own; this is what is used of it. */
declare module 'onnxruntime-node' {
  export class Tensor {
    constructor(type: 'float32', data: Float32Array, dims: readonly number[]);
    readonly data: Float32Array;
    readonly dims: readonly number[];
  }

  export class InferenceSession {
    static create(
      model: Uint8Array,
      options: {
        readonly intraOpNumThreads: number;
        readonly interOpNumThreads: number;
        readonly executionMode: 'sequential' | 'parallel';
        readonly graphOptimizationLevel: 'disabled' | 'basic' | 'extended' | 'all';
      },
    ): Promise<InferenceSession>;
    run(feeds: Readonly<Record<string, Tensor>>): Promise<Readonly<Record<string, Tensor>>>;
    release(): Promise<void>;
  }
}
