package settled

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/hand"
	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
	"mallow/rules/propose"
)

// Paths of what is to be bought, which are no facts of a head.
const (
	spares = "on hand only"
	buys   = "buy " // and the kind of part that may be bought all the same
)

// kinds are the kinds of part of a head, as they are called.
var kinds = [...]struct{ id, name string }{{"core", "balls"}, {"tube", "tubing"}, {"yarn", "yarn"}, {"shaft", "shafts"}}

// Spare takes in that nothing is to be bought that a head can do without, and returns
// what follows; nothing where that was said before.
func Spare(st *State) string {
	if st.Known[spares] {
		return ""
	}
	st.Note(spares, "only what is on hand")
	st.Stack = ""
	var keep, out, buy []string
	for _, k := range kinds {
		switch {
		case len(onHand(st, k.id)) > 0:
			keep = append(keep, k.name)
		case k.id == "core" || k.id == "shaft" || st.Known[buys+k.id] || len(st.Only[k.id]) > 0:
			buy = append(buy, k.name)
		default:
			out = append(out, k.name)
		}
	}
	if len(keep) == 0 {
		return "Taken: only what is on hand, but I know of no ball, tubing, yarn or shaft that you have. Say what is there, such as two 1 in rubber balls, wool yarn, birch dowels; until then I count everything as bought."
	}
	text := fmt.Sprintf("Taken: only the %s on hand", reply.Joined(keep, " and "))
	if len(out) > 0 {
		text += fmt.Sprintf(", and no %s, since none is there", reply.Joined(out, " or "))
	}
	return fmt.Sprintf("%s. Still to buy, since no head goes without: %s. Say I can buy things to take that back.", text, strings.Join(append(buy, "glue where there is none"), ", "))
}

// Spend takes back that nothing is to be bought, and reports whether that was said.
func Spend(st *State) bool { return st.Unsay(spares) != "" }

// onHand are the parts of a kind that are on hand.
func onHand(st *State, kind string) (ids []string) {
	h := st.Hand()
	for _, id := range hand.All(st.Catalogue, kind) {
		if h.Bin.OnHand(id) > 0 {
			ids = append(ids, id)
		}
	}
	return ids
}

// spare keeps a request to what is on hand, if that was said. What was asked for by
// name may be bought all the same.
func spare(st *State, q *propose.Request) {
	if !st.Known[spares] || q.Bin == nil {
		return
	}
	for _, k := range kinds {
		there := onHand(st, k.id)
		if len(st.Only[k.id]) > 0 || st.Known[buys+k.id] || len(there) == 0 && (k.id == "core" || k.id == "shaft") {
			continue
		}
		for _, id := range hand.All(st.Catalogue, k.id) {
			if !slices.Contains(there, id) && !slices.Contains(q.Pin.Without, id) {
				q.Pin.Without = append(q.Pin.Without, id)
			}
		}
	}
}

// Last are the facts that were taken of the last line.
type Last struct {
	Paths   []string
	Doubted bool // these were not sure
}

// Took are the facts that a reading takes, or only those that are not sure where some are.
func Took(in reading.Reading) (last Last) {
	for _, d := range in.Asks {
		last.Paths, last.Doubted = append(last.Paths, d.Path), true
	}
	for _, t := range in.Takes {
		if !last.Doubted {
			last.Paths = append(last.Paths, t.Path)
		}
	}
	return last
}

// Deny takes back what was taken of the last line, and returns how it read. What keeps
// somebody from harm stays.
func Deny(st *State, last Last) string {
	var list []string
	for _, path := range last.Paths {
		if q, ok := st.Catalogue.Question(path); ok && q.Careful != "" {
			continue
		}
		if words := st.Unsay(path); words != "" {
			list = append(list, words)
		}
	}
	return strings.Join(list, "; ")
}
