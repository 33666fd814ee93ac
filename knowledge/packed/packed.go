// Package packed knows how values are written as bytes that are quick to read
// again, with a seal that tells whether they still belong to what they were
// made from. It never knows what the values mean.
package packed

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash"
	"hash/crc32"
	"io"
	"io/fs"
	"math"
	"math/bits"
	"reflect"
)

// Writer writes values one after another.
type Writer struct{ b []byte }

// Uint writes a whole number of at least zero.
func (w *Writer) Uint(x uint64) { w.b = binary.AppendUvarint(w.b, x) }

// Int writes a whole number.
func (w *Writer) Int(x int) { w.b = binary.AppendVarint(w.b, int64(x)) }

// Float writes a number. Round ones are short.
func (w *Writer) Float(x float64) { w.Uint(bits.ReverseBytes64(math.Float64bits(x))) }

// Bool writes a truth.
func (w *Writer) Bool(x bool) {
	if x {
		w.b = append(w.b, 1)
		return
	}
	w.b = append(w.b, 0)
}

// Text writes a text.
func (w *Writer) Text(s string) {
	w.Uint(uint64(len(s)))
	w.b = append(w.b, s...)
}

// Value writes v, which is made of structs with exported fields, pointers,
// lists, texts, truths and numbers.
func (w *Writer) Value(v any) error { return w.value(reflect.ValueOf(v)) }

func (w *Writer) value(v reflect.Value) error {
	switch v.Kind() {
	case reflect.String:
		w.Text(v.String())
	case reflect.Bool:
		w.Bool(v.Bool())
	case reflect.Float64:
		w.Float(v.Float())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		w.Int(int(v.Int()))
	case reflect.Struct:
		for i := range v.NumField() {
			if err := w.value(v.Field(i)); err != nil {
				return err
			}
		}
	case reflect.Pointer:
		w.Bool(!v.IsNil())
		if !v.IsNil() {
			return w.value(v.Elem())
		}
	case reflect.Slice:
		if v.IsNil() {
			w.Uint(0)
			return nil
		}
		w.Uint(uint64(v.Len()) + 1)
		for i := range v.Len() {
			if err := w.value(v.Index(i)); err != nil {
				return err
			}
		}
	default:
		return fmt.Errorf("packed: a %s can't be written", v.Type())
	}
	return nil
}

// Reader reads values in the order in which they were written. Once something
// is wrong it reads zeros, and Err says so.
type Reader struct {
	s   string
	at  int
	bad bool
}

// Err reports what was not there to be read.
func (r *Reader) Err() error {
	if r.bad {
		return errors.New("packed: it breaks off or is out of order")
	}
	return nil
}

// Uint reads what Writer.Uint wrote.
func (r *Reader) Uint() uint64 {
	var x uint64
	for shift := 0; r.at < len(r.s) && shift < 64; shift += 7 {
		c := r.s[r.at]
		r.at++
		x |= uint64(c&0x7f) << shift
		if c < 0x80 {
			return x
		}
	}
	r.bad = true
	return 0
}

// Int reads a whole number.
func (r *Reader) Int() int {
	x := r.Uint()
	return int(int64(x>>1) ^ -int64(x&1))
}

// Count reads a whole number of things of which each takes a byte or more.
func (r *Reader) Count() int {
	n := r.Uint()
	if n > uint64(len(r.s)-r.at) {
		r.bad = true
		return 0
	}
	return int(n)
}

// Float reads a number.
func (r *Reader) Float() float64 { return math.Float64frombits(bits.ReverseBytes64(r.Uint())) }

// Bool reads a truth.
func (r *Reader) Bool() bool {
	if r.at >= len(r.s) {
		r.bad = true
		return false
	}
	r.at++
	return r.s[r.at-1] == 1
}

// Text reads a text, which shares the memory of what is read from.
func (r *Reader) Text() string {
	n := r.Count()
	r.at += n
	return r.s[r.at-n : r.at]
}

// Value reads into what the pointer v points to.
func (r *Reader) Value(v any) { r.value(reflect.ValueOf(v).Elem()) }

func (r *Reader) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(r.Text())
	case reflect.Bool:
		v.SetBool(r.Bool())
	case reflect.Float64:
		v.SetFloat(r.Float())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(int64(r.Int()))
	case reflect.Struct:
		for i := range v.NumField() {
			r.value(v.Field(i))
		}
	case reflect.Pointer:
		if r.Bool() {
			v.Set(reflect.New(v.Type().Elem()))
			r.value(v.Elem())
		}
	case reflect.Slice:
		n := int(r.Uint())
		if n == 0 {
			return
		}
		if n-1 > len(r.s)-r.at || n < 0 {
			r.bad = true
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), n-1, n-1))
		for i := range n - 1 {
			r.value(v.Index(i))
		}
	default:
		r.bad = true
	}
}

const magic = "mallow packed 1\n"

// Key tells from what something was packed: files, and the Go types that hold
// it. Another key means other contents.
type Key struct{ h hash.Hash32 }

// NewKey returns a key of nothing yet.
func NewKey() Key { return Key{crc32.New(crc32.MakeTable(crc32.Castagnoli))} }

// Files adds every YAML file at the top of fsys.
func (k Key) Files(fsys fs.FS) error {
	names, err := fs.Glob(fsys, "*.yaml")
	if err != nil {
		return err
	}
	buffer := make([]byte, 32<<10)
	for _, name := range names {
		f, err := fsys.Open(name)
		if err != nil {
			return err
		}
		k.Text(name)
		_, err = io.CopyBuffer(struct{ io.Writer }{k.h}, struct{ io.Reader }{f}, buffer)
		f.Close()
		if err != nil {
			return err
		}
	}
	return nil
}

// Text adds a text.
func (k Key) Text(s string) {
	var some [256]byte // and not all at once, which would need as much again
	for len(s) > 0 {
		n := copy(some[:], s)
		k.h.Write(some[:n])
		s = s[n:]
	}
}

// Type adds the layout of type t: the names and types of its fields, and of
// theirs.
func (k Key) Type(t reflect.Type) { k.layout(t, map[reflect.Type]bool{}) }

func (k Key) layout(t reflect.Type, seen map[reflect.Type]bool) {
	k.Text(t.String())
	if seen[t] {
		return
	}
	seen[t] = true
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		k.layout(t.Elem(), seen)
	case reflect.Struct:
		for i := range t.NumField() {
			k.Text(t.Field(i).Name)
			k.layout(t.Field(i).Type, seen)
		}
	}
}

// Seal returns what w wrote, sealed with a key.
func (w *Writer) Seal(k Key) []byte {
	out := []byte(magic)
	out = binary.LittleEndian.AppendUint32(out, k.h.Sum32())
	out = binary.LittleEndian.AppendUint32(out, crc32.Checksum(w.b, crc32.MakeTable(crc32.Castagnoli)))
	return append(out, w.b...)
}

// ErrStale says that something was packed from other files or types than now.
var ErrStale = errors.New("packed: made from something else; go generate ./... makes it anew")

// Open returns a reader of what was sealed with the key.
func Open(sealed string, k Key) (*Reader, error) {
	body := len(magic) + 8
	if len(sealed) < body || sealed[:len(magic)] != magic {
		return nil, errors.New("packed: no sealed values")
	}
	sums := []byte(sealed[len(magic):body])
	if binary.LittleEndian.Uint32(sums) != k.h.Sum32() {
		return nil, ErrStale
	}
	whole := NewKey()
	whole.Text(sealed[body:])
	if binary.LittleEndian.Uint32(sums[4:]) != whole.h.Sum32() {
		return nil, errors.New("packed: damaged")
	}
	return &Reader{s: sealed[body:]}, nil
}
