package main

import (
	"bufio"
	"fmt"
	"os"

	"mallow/assistant/understand"
	"mallow/knowledge"
)

func main() {
	cat, err := knowledge.Default()
	if err != nil {
		panic(err)
	}
	r, err := understand.New(cat)
	if err != nil {
		panic(err)
	}
	sc := bufio.NewScanner(os.Stdin)
	for sc.Scan() {
		fmt.Printf("%s\n   %+v\n", sc.Text(), r.Read(sc.Text(), understand.Context{}))
	}
}
