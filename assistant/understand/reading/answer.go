package reading

// Answer is one thing that was taken of a line, as a second opinion weighs it, and what
// surrounds it.
type Answer struct {
	Of    string // a take, move, part or act, or harm that is careful (harm) or not (safe)
	Path  string // of a fact; of a part "part." and its kind
	Value any    // of a move by how much, of a part its Holding as a string
	Not   bool
	Bound string // as that of a Take
	Part  *Part  // itself
	// Doubt, Faint and Back are what harm said of it itself: that it is in doubt,
	// only touched on, or taken back.
	Doubt, Faint, Back bool

	Text string  // the words it came from
	Sure float64 // as that of a Take

	Asked    string // the fact that was asked last
	Asks     bool   // the line asks something
	Corrects bool   // it takes back something said before
	Follows  bool   // something was said before
}

// Heard is something that was made of a line, as a second opinion is shown it.
type Heard struct {
	What string  `json:"what"` // a fact and its value, a move and its sign, a part, an act
	Much float32 `json:"much"` // how sure that is, or how much of it there is
}
