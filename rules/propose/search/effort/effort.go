// Package effort knows how much a search may do before it has to stop: in
// heads looked at and in boxes bounded. It never looks for a head.
package effort

// Done is what a search has done.
type Done struct{ Tried, Bounded int64 } // heads, boxes

// A search that is to stop at so many heads stops at so many boxes as well: where there
// are many parts most of the work is to bound what is then not looked at. The more it may look
// at, the more of each box is for proof alone: a conversation's 8,000 heads go with 230,000 boxes, some
// quarter of a second, and the 150,000 before a build with five million.
const boxes, boxesAHead, headsABox = 60_000, 20, 10_000

// StrokeBoxes is how many boxes a stroke that bounds others counts for, and WrapsABox how many
// wraps that are screened count for one, or are gathered in a cell: they take as long.
const StrokeBoxes, WrapsABox, CellWrapsABox = 8, 8, 64

// Most is all that a search that is to stop at so many heads may do.
func Most(heads int) Done {
	n := int64(heads)
	return Done{n, boxes + boxesAHead*n + n*n/headsABox}
}

// mostQuick is how many heads a search may look at that has to answer at once.
const mostQuick = 20_000

// Closely reports whether a search that is to stop at so many heads, or never where they are none, takes
// the time to bound closely what it does not look at. That proves more in the end, and costs more before.
func Closely(heads int) bool { return heads == 0 || heads > mostQuick }

// Reaches reports whether so much is done.
func (x Done) Reaches(most Done) bool { return x.Tried >= most.Tried || x.Bounded >= most.Bounded }
