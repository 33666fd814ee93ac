package settled

import (
	"encoding/json"

	"mallow/assistant/understand/reading"
	"mallow/rules"
	"mallow/rules/facts"
)

// saved is a State as it is written beside a session's lines: all but the
// ground, which is known anew.
type saved struct {
	Player     facts.Player
	Want       facts.Want
	Instrument facts.Instrument
	Bench      facts.Bench
	Known      rules.Known
	ID         string // of the instrument
	Only       map[string][]string
	Have       []reading.Part
	Without    []string
	Stack      string
	Own        Own
	Group      Group
	Said       map[string]string
	Order      []string
	Shared     bool
	Touched    map[string]bool
	Held       map[string]bool
}

// MarshalJSON writes all but the ground.
func (st State) MarshalJSON() ([]byte, error) {
	f := st.Facts
	return json.Marshal(saved{f.Player, f.Want, f.Instrument, f.Bench, st.Known, st.Instrument, st.Only, st.Have, st.Without, st.Stack, st.Own, st.Group,
		st.said, st.order, st.shared, st.touched, st.held})
}

// UnmarshalJSON reads what MarshalJSON wrote. The ground stays as it is.
func (st *State) UnmarshalJSON(data []byte) error {
	var x saved
	if err := json.Unmarshal(data, &x); err != nil {
		return err
	}
	*st = State{
		Ground: st.Ground, Facts: facts.Facts{Player: x.Player, Want: x.Want, Instrument: x.Instrument, Bench: x.Bench},
		Known: x.Known, Instrument: x.ID, Only: x.Only, Have: x.Have, Without: x.Without, Stack: x.Stack, Own: x.Own, Group: x.Group,
		said: x.Said, order: x.Order, shared: x.Shared, touched: x.Touched, held: x.Held,
	}
	if st.Known == nil {
		st.Known = rules.Known{}
	}
	if st.said == nil {
		st.said = map[string]string{}
	}
	return nil
}
