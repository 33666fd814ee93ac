package settled

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Group is how many sets of heads are wanted alike, and for whom.
type Group struct {
	Pairs      float64 // sets of heads, as said; 0 when nobody said
	Each       int     // heads of a set, as said; 0 for as many as are held at once
	Students   float64 // who each get one; 0 for no class
	TotalCents float64 // what may be spent on all of it; 0 when nobody said
	Kinds      int     // kinds of head that share it; 0 is one
	TotalGiven bool    // no head can be built for a share of it, so it is no limit
}

// Paths of a group, which are no facts of a head.
const (
	heads    = "want.heads"
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
func (st *State) ShareCents() float64 {
	return math.Floor(st.TotalCents / float64(st.Sets()*max(st.Kinds, 1)))
}

// Among says that so many kinds of head share the total.
func (st *State) Among(kinds int) {
	st.Kinds = kinds
	st.share()
}

// group takes in what is said of a group, and reports whether the path is one
// of a group's.
func (st *State) group(path string, v any) bool {
	x, _ := v.(float64)
	switch path {
	case heads:
		st.Each = int(math.Min(math.Max(math.Floor(x), 1), mostSets))
		st.Note(path, count(float64(st.Each), "head", "heads")+" to build")
	case pairs:
		st.Pairs = math.Floor(x)
		st.Note(path, count(st.Pairs, "set", "sets"))
	case students:
		st.Students = math.Floor(x)
		st.Note(path, count(st.Students, "student", "students"))
	case total:
		st.TotalCents, st.TotalGiven = x, false
		st.Note(path, "at most "+measure.Money(math.Round(x)).String()+" in all")
	default:
		return false
	}
	st.share()
	return true
}

// Pair takes in that a pair is to be built where it was to be one head, if a line
// says so in so many words; elsewhere a pair is what is built anyway.
func (st *State) Pair(line string) bool {
	one := st.Each == 1 && strings.Contains(" "+strings.ToLower(line)+" ", " a pair")
	if one {
		st.group(heads, 2.0)
	}
	return one
}

// share gives a set its part of the total, unless a limit of its own was said.
func (st *State) share() {
	if st.TotalCents > 0 && !st.TotalGiven && (!st.Known[facts.WantBudgetCents] || st.shared) {
		st.Facts.Want.BudgetCents, st.shared = st.ShareCents(), true
		st.Known[facts.WantBudgetCents] = true
	}
}

func count(n float64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%.0f %s", n, many)
}

// Another returns the state in which a further head is begun: what was said of
// its makers, their bench and parts stays, and of the group; the instrument and
// the wishes are open again.
func (st *State) Another() State {
	at := st.Clone()
	at.Facts.Instrument, at.Facts.Want = st.Ground.Facts.Instrument, st.Ground.Facts.Want
	at.Instrument, at.Stack, at.Only = "", "", nil
	keeps := func(path string) bool {
		return !strings.HasPrefix(path, "instrument.") && !strings.HasPrefix(path, "want.") && !strings.HasPrefix(path, "with ") || path == pairs || path == total
	}
	maps.DeleteFunc(at.Known, func(path string, _ bool) bool { return !keeps(path) })
	maps.DeleteFunc(at.said, func(path, _ string) bool { return !keeps(path) })
	at.order = slices.DeleteFunc(at.order, func(path string) bool { return !keeps(path) })
	if st.shared {
		at.Facts.Want.BudgetCents, at.Known[facts.WantBudgetCents] = st.ShareCents(), true
	}
	return at
}

// Unshare gives up that a set's share of the total is a limit, and returns
// what that share was; the total is still known.
func (st *State) Unshare() (share float64, ok bool) {
	if !st.shared {
		return 0, false
	}
	share = st.Facts.Want.BudgetCents
	st.GiveUp(facts.WantBudgetCents)
	return share, true
}

// GiveUp takes a wish back that stands in the way of every head, and reports
// whether it is one that may be given up without asking what else there is. It
// is never one that keeps somebody from harm.
func (st *State) GiveUp(path string) bool {
	switch path {
	case facts.PlayerMostG, facts.PlayerMostMM, facts.WantLeastG, facts.WantLeastMM:
	case facts.WantBudgetCents:
		st.TotalGiven = true
	case facts.InstrumentLowHz:
		st.forget(facts.InstrumentHighHz)
	case "pin.without":
		st.Only, st.Without = nil, nil
		st.forget(spares)
		for _, said := range slices.Clone(st.order) {
			if strings.HasPrefix(said, "with ") || strings.HasPrefix(said, "without ") {
				st.forget(said)
			}
		}
	default:
		return false
	}
	st.Stack = ""
	st.forget(path)
	return true
}

// Unsay takes back what was said of a fact, with its limits, or which part of a
// kind it was to be, as though nobody had, and returns how it read; empty for
// nothing. What keeps somebody from harm is taken back by TakeBack alone.
func (st *State) Unsay(path string) string {
	paths := []string{path}
	switch path {
	case "core", "tube", "yarn", "shaft":
		paths = []string{"with " + path}
		delete(st.Only, path)
	case facts.WantMassG:
		paths = append(paths, facts.PlayerMostG, facts.WantLeastG)
	case facts.WantDiameterMM:
		paths = append(paths, facts.PlayerMostMM, facts.WantLeastMM)
	}
	var words []string
	for _, p := range paths {
		if said, ok := st.said[p]; ok {
			words = append(words, said)
			st.forget(p)
		}
	}
	if len(words) > 0 {
		st.Stack = ""
		st.share()
	}
	return strings.Join(words, "; ")
}

// forget takes an answer back: what it settled is again as when nothing is said.
func (st *State) forget(path string) {
	switch path {
	case heads:
		st.Each = 0
	case pairs:
		st.Pairs = 0
	case students:
		st.Students = 0
	case total:
		if st.shared {
			st.forget(facts.WantBudgetCents)
		}
		st.TotalCents = 0
	case facts.WantBudgetCents:
		st.Facts.Want.BudgetCents, st.shared = st.Ground.Facts.Want.BudgetCents, false
	case facts.PlayerMostG:
		st.Facts.Player.MostG, st.Facts.Player.EasyG = st.Ground.Facts.Player.MostG, st.Ground.Facts.Player.EasyG
	default:
		_ = facts.Set(&st.Facts, path, facts.Get(&st.Ground.Facts, path)) // of one type; what a part is called is no fact
	}
	if st.Reopen(path); !st.Known[facts.PlayerMallets] {
		st.Facts.Player.Mallets = st.Ground.Facts.Player.Mallets // it followed from the grip
	}
	delete(st.said, path)
	st.order = slices.DeleteFunc(st.order, func(p string) bool { return p == path })
}
