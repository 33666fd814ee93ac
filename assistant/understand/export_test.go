package understand

// First returns the reader without its second opinion, to test what it hears by
// itself.
func (r *Reader) First() *Reader {
	first := *r
	first.hunch = nil
	return &first
}
