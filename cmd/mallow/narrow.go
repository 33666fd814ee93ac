package main

import (
	"reflect"
	"strings"

	"github.com/alecthomas/kong"
)

// narrow reads a command line by a grammar of its one command: that of all
// takes as long to make as most commands take to run. It returns nil for a line
// that the whole grammar has to judge, whatever is the matter with it.
func narrow(flags *commands, args []string) *kong.Context {
	all := reflect.ValueOf(flags).Elem()
	name := "talk"
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		name = args[0]
	}
	var fields []reflect.StructField
	found := false
	for i := range all.NumField() {
		f := all.Type().Field(i)
		_, isCommand := f.Tag.Lookup("cmd")
		switch {
		case f.Name == "Version" || f.Name == "Man" || f.Name == "Completion": // need the whole
			continue
		case isCommand && commandName(f) != name:
			continue
		}
		found = found || isCommand
		fields = append(fields, reflect.StructField{Name: f.Name, Type: f.Type, Tag: f.Tag})
	}
	if !found {
		return nil
	}
	some := reflect.New(reflect.StructOf(fields))
	parser, err := kong.New(some.Interface(), kong.Name("mallow"), kong.NoDefaultHelp())
	if err != nil {
		return nil
	}
	parsed, err := parser.Parse(args)
	if err != nil {
		return nil
	}
	for _, f := range fields {
		all.FieldByName(f.Name).Set(some.Elem().FieldByName(f.Name))
	}
	return parsed
}

// commandName is what a command is called on the command line.
func commandName(f reflect.StructField) string {
	if name := f.Tag.Get("name"); name != "" {
		return name
	}
	return strings.ToLower(f.Name)
}
