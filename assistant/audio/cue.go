package audio

import (
	"encoding/binary"
	"fmt"
)

// withCues adds cue points and their names to a RIFF WAVE file, so that an
// editor shows where each stroke begins. The layout of the chunks is that of
// the Multimedia Programming Interface and Data Specifications 1.0 (1991, from
// memory).
func withCues(wav []byte, cues []Cue) []byte {
	u32 := binary.LittleEndian.AppendUint32
	chunk := func(to []byte, id string, body []byte) []byte {
		to = u32(append(to, id...), uint32(len(body)))
		to = append(to, body...)
		if len(body)%2 == 1 {
			to = append(to, 0)
		}
		return to
	}
	points := u32(nil, uint32(len(cues)))
	names := []byte("adtl")
	for i, c := range cues {
		at := uint32(samples(c.Seconds))
		points = u32(u32(points, uint32(i+1)), at)
		points = append(points, "data"...)
		points = u32(u32(u32(points, 0), 0), at)
		name := append([]byte(fmt.Sprintf("%s %s %s", c.Head, c.Note, c.Dynamic)), 0)
		names = chunk(names, "labl", append(u32(nil, uint32(i+1)), name...))
	}
	wav = chunk(wav, "cue ", points)
	wav = chunk(wav, "LIST", names)
	binary.LittleEndian.PutUint32(wav[4:], uint32(len(wav)-8))
	return wav
}
