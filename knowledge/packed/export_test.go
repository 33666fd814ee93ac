package packed

// Raw returns what was written, without a seal.
func (w *Writer) Raw() []byte { return w.b }

// Raw reads without a seal.
func Raw(b []byte) *Reader { return &Reader{s: string(b)} }
