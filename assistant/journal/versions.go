package journal

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
)

// Versions returns a digest of a program's own version and of the first most
// bytes of the files that its answers follow from, there or not. It is empty
// where a file can't be read to its end.
func Versions(program string, files []string, most int64) string {
	h := sha256.New()
	fmt.Fprint(h, program)
	for _, name := range files {
		fmt.Fprintln(h, name)
		f, err := os.Open(name)
		if err != nil {
			continue // it is not there, which counts as well
		}
		n, err := io.Copy(h, io.LimitReader(f, most+1))
		f.Close()
		if err != nil {
			return ""
		}
		fmt.Fprintln(h, n)
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}
