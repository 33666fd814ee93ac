package search

// work is what a search has done.
type work struct{ tried, bounded int64 }

// A search that is to stop at so many heads stops at so many boxes as well: where there
// are many parts most of the work is to bound what is then not looked at. The more it may look
// at, the more of each box is for proof alone: a conversation's 8,000 heads go with 230,000 boxes, some
// quarter of a second, and the 150,000 before a build with five million.
const boxes, boxesAHead, headsABox = 60_000, 20, 10_000

// strokeBoxes is how many boxes a stroke that bounds others counts for, and wrapsABox how many
// wraps that are screened count for one: they take as long.
const strokeBoxes, wrapsABox = 8, 8

// mostWork is all that a search that is to stop at so many heads may do.
func mostWork(heads int) work {
	n := int64(heads)
	return work{n, boxes + boxesAHead*n + n*n/headsABox}
}

// reaches reports whether so much is done.
func (x work) reaches(most work) bool { return x.tried >= most.tried || x.bounded >= most.bounded }

// spent reports whether a task has done its share, an eighth of all that the search may,
// with a head to show for it where it has to find one: the rest of it is left then,
// and nothing is proven.
func (w *worker) spent() bool {
	const share = 8
	heads := w.Limit
	if heads == 0 && (len(w.goal.best) > 0 || w.local.node != nil) {
		heads = w.q.Most
	}
	most := mostWork(heads)
	done := work{share * (w.tried - w.from.tried), share * (w.bounded - w.from.bounded)}
	if heads == 0 || !done.reaches(most) {
		return false
	}
	w.cut = true
	return true
}
