package settled

import (
	"fmt"
	"math"

	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Group is how many sets of heads are wanted alike, and for whom.
type Group struct {
	Pairs      float64 // sets of heads, as said; 0 when nobody said
	Students   float64 // who each get one; 0 for no class
	TotalCents float64 // what may be spent on all of it; 0 when nobody said
}

// Paths of a group, which are no facts of a head.
const (
	pairs    = "want.pairs"
	students = "class.size"
	total    = "want.total_budget"
)

// mostSets is how many sets are thought of at most.
const mostSets = 1000

// Sets is how many sets of heads are to be built.
func (st *State) Sets() int {
	n := math.Max(st.Pairs, 1)
	if st.Pairs == 0 {
		n = math.Max(st.Students, 1)
	}
	return int(math.Min(n, mostSets))
}

// ShareCents is the part of the total that one set may cost, 0 for no limit.
func (st *State) ShareCents() float64 { return math.Floor(st.TotalCents / float64(st.Sets())) }

// group takes in what is said of a group, and reports whether the path is one
// of a group's.
func (st *State) group(path string, v any) bool {
	x, _ := v.(float64)
	switch path {
	case pairs:
		st.Pairs = math.Floor(x)
		st.Note(path, count(st.Pairs, "set", "sets"))
	case students:
		st.Students = math.Floor(x)
		st.Note(path, count(st.Students, "student", "students"))
	case total:
		st.TotalCents = x
		st.Note(path, "about "+measure.Money(math.Round(x)).String()+" in all")
	default:
		return false
	}
	if st.TotalCents > 0 && (!st.Known[facts.WantBudgetCents] || st.shared) {
		st.Facts.Want.BudgetCents, st.shared = st.ShareCents(), true
		st.Known[facts.WantBudgetCents] = true
	}
	return true
}

func count(n float64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%.0f %s", n, many)
}
