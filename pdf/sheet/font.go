package sheet

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"sync"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-fonts/dejavu/dejavusanscondensedoblique"
)

// Face is what layout needs of one embedded font: which characters it has, how
// wide they are and how high they reach. The bytes themselves go to the PDF.
type Face struct {
	ttf     []byte
	perEm   float64
	glyphs  map[rune]uint16
	advance []uint16
	latin   [0x180]uint16 // advances of the commonest characters
	common  [0x180]bool   // which of them the font has
	loca    []byte        // where each glyph stands in glyf, 32 bits each
	glyf    []byte
}

// Faces are the fonts of the page, one family.
type Faces struct {
	Regular, Bold, Slanted *Face
}

// LoadFaces reads the metrics of the embedded fonts, once in a process.
var LoadFaces = sync.OnceValues(func() (*Faces, error) {
	regular, err := parseFace(dejavusanscondensed.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the regular font: %w", err)
	}
	bold, err := parseFace(dejavusanscondensedbold.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the bold font: %w", err)
	}
	slanted, err := parseFace(dejavusanscondensedoblique.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the oblique font: %w", err)
	}
	return &Faces{Regular: regular, Bold: bold, Slanted: slanted}, nil
})

// face is the font of an ink.
func (f *Faces) face(k Ink) *Face {
	if k.Slant {
		return f.Slanted
	}
	return f.Of(k.Bold)
}

// Of is the bold font, or the regular one.
func (f *Faces) Of(bold bool) *Face {
	if bold {
		return f.Bold
	}
	return f.Regular
}

// Has says whether the font can draw r.
func (f *Face) Has(r rune) bool {
	_, ok := f.glyphs[r]
	return ok
}

// Width returns the width of s at the size, in points. Characters the font
// lacks count nothing: reduce has replaced them before.
func (f *Face) Width(s string, size float64) float64 {
	sum := 0
	for _, r := range s {
		if int(r) < len(f.latin) {
			sum += int(f.latin[r])
		} else {
			sum += f.advanceOf(r)
		}
	}
	return float64(sum) * size / f.perEm
}

func (f *Face) advanceOf(r rune) int {
	g, ok := f.glyphs[r]
	if !ok {
		return 0
	}
	return int(f.advance[min(int(g), len(f.advance)-1)])
}

// Extent returns the ink of r at the size: left, bottom, right and top from
// the pen and the baseline, upwards positive.
func (f *Face) Extent(r rune, size float64) (l, b, rt, t float64) {
	at := int(binary.BigEndian.Uint32(f.loca[4*int(f.glyphs[r]):]))
	v := func(i int) float64 {
		return float64(int16(binary.BigEndian.Uint16(f.glyf[at+i:]))) * size / f.perEm
	}
	return v(2), v(4), v(6), v(8)
}

var errFont = errors.New("not the TrueType font that was expected")

// parseFace reads the tables of a TrueType font (Apple's and Microsoft's
// OpenType specification: head, hhea, hmtx, cmap format 4, loca, glyf). The reader of
// golang.org/x/image was tried: its numbers are fixed-point ones of the size asked for, so
// that outlines stood a hundredth of a point beside where the PDF has them.
func parseFace(ttf []byte) (f *Face, err error) {
	defer func() { // an index out of range: the bytes are not such a font
		if recover() != nil {
			f, err = nil, errFont
		}
	}()
	ttf = slices.Clip(ttf)
	u16 := func(b []byte, i int) int { return int(binary.BigEndian.Uint16(b[i:])) }
	tables := map[string][]byte{}
	for i := range u16(ttf, 4) {
		e := ttf[12+16*i:]
		from, n := binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
		tables[string(e[:4])] = ttf[from : from+n]
	}
	f = &Face{
		ttf:   ttf,
		perEm: float64(u16(tables["head"], 18)),
		loca:  tables["loca"],
		glyf:  tables["glyf"],
	}
	if u16(tables["head"], 50) != 1 { // of 16 bits: no font of ours
		return nil, errFont
	}
	for i := range u16(tables["hhea"], 34) {
		f.advance = append(f.advance, uint16(u16(tables["hmtx"], 4*i)))
	}
	if f.glyphs, err = parseCmap(tables["cmap"]); err != nil {
		return nil, err
	}
	for r := range f.latin {
		f.latin[r], f.common[r] = uint16(f.advanceOf(rune(r))), f.Has(rune(r))
	}
	return f, nil
}

// parseCmap reads the format 4 subtable of the Unicode plane 0, where all that
// the PDF library can print stands.
func parseCmap(cmap []byte) (map[rune]uint16, error) {
	u16 := func(b []byte, i int) int { return int(binary.BigEndian.Uint16(b[i:])) }
	var sub []byte
	for i := range u16(cmap, 2) {
		e := cmap[4+8*i:]
		if u16(e, 0) == 3 && u16(e, 2) == 1 {
			sub = cmap[binary.BigEndian.Uint32(e[4:]):]
		}
	}
	if sub == nil || u16(sub, 0) != 4 {
		return nil, errFont
	}
	glyphs := map[rune]uint16{}
	n := u16(sub, 6) / 2
	ends, starts := sub[14:], sub[16+2*n:]
	deltas, offsets := sub[16+4*n:], sub[16+6*n:]
	for s := range n {
		if u16(offsets, 2*s) != 0 { // glyphs by a list: no font of ours
			return nil, errFont
		}
		for c := u16(starts, 2*s); c <= u16(ends, 2*s) && c < 0xFFFF; c++ {
			if g := (c + u16(deltas, 2*s)) & 0xFFFF; g != 0 {
				glyphs[rune(c)] = uint16(g)
			}
		}
	}
	return glyphs, nil
}
