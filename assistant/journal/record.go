package journal

import (
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"time"
)

// Prediction is one guess in a lesson and what came of it.
type Prediction struct {
	At        time.Time
	Learner   string // as given; may be empty
	Lesson    string
	Question  string
	Predicted string
	Computed  string // with its numbers
	Right     bool
}

// Record adds predictions to the learner's record at path, a CSV file with a
// heading line that a teacher can open in any spreadsheet.
func Record(path string, predictions ...Prediction) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_RDWR, 0o600)
	if err != nil {
		return fmt.Errorf("learner's record: %w", err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return fmt.Errorf("learner's record: %w", err)
	}
	// One write call, so that two programs appending do not mix their lines.
	var b strings.Builder
	w := csv.NewWriter(&b)
	if info.Size() == 0 {
		w.Write([]string{"time", "learner", "lesson", "question", "predicted", "computed", "right"})
	}
	for _, p := range predictions {
		right := "no"
		if p.Right {
			right = "yes"
		}
		w.Write([]string{p.At.Format(time.RFC3339), cell(p.Learner), cell(p.Lesson), cell(p.Question), cell(p.Predicted), cell(p.Computed), right})
	}
	w.Flush()
	if _, err := f.WriteString(b.String()); err != nil {
		return fmt.Errorf("learner's record: %w", err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("learner's record: %w", err)
	}
	return nil
}

// cell keeps a spreadsheet from taking typed text for a formula.
func cell(s string) string {
	if strings.ContainsRune("=+-@\t\r", firstRune(s)) {
		return "'" + s
	}
	return s
}

func firstRune(s string) rune {
	for _, r := range s {
		return r
	}
	return ' '
}
