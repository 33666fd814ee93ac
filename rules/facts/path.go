package facts

import (
	"fmt"
	"reflect"
	"strings"
)

// Set returns f with a float64, string or bool put at a dotted path.
func Set(f Facts, path string, value any) (Facts, error) {
	v := reflect.ValueOf(&f).Elem()
	for name := range strings.SplitSeq(path, ".") {
		next := reflect.Value{}
		if v.Kind() == reflect.Struct {
			for i := range v.NumField() {
				if v.Type().Field(i).Tag.Get("expr") == name {
					next = v.Field(i)
				}
			}
		}
		if !next.IsValid() {
			return f, fmt.Errorf("no fact is called %q", path)
		}
		v = next
	}
	x := reflect.ValueOf(value)
	if v.Kind() == reflect.Struct || x.Type() != v.Type() {
		return f, fmt.Errorf("%s is a %s", path, map[reflect.Kind]string{reflect.Float64: "number", reflect.Bool: "yes or no (true, false)", reflect.String: "word"}[v.Kind()])
	}
	v.Set(x)
	return f, nil
}
