// Package photo makes the copies of photographs that a book holds: turned upright, made smaller, and with nothing in them but
// the picture. Bytes go in and bytes come out.
package photo

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"
	"slices"
)

const (
	// Longest is the longest side of a copy in pixels: a sheet's width on paper at 230 pixels to the inch, and more than a phone shows.
	Longest = 1600
	// MostPixels is the most that a photograph may have, 8192 by 8192: more than any phone takes as a rule, and a bound on memory.
	// An ordinary JPEG takes up to 3 bytes for each of them while it is read, the least thrifty of either kind up to 15.
	MostPixels = 1 << 26

	// recipe says how copies are made. It is changed when the same photograph would give another copy, so that one which an older program made is not taken for it.
	recipe = "1"

	mostSide = 1<<16 - 1 // pixels: what a JPEG can have, and a bound on sums
	quality  = 82        // of a JPEG, out of 100: by eye no difference from the photograph at this size, about 300 kB
)

// Copy is a photograph as the book holds it.
type Copy struct {
	Name       string // of the file: a hash of the photograph that it was made of, and .jpg or .png
	Data       []byte
	Wide, High int // pixels, upright
}

// Refusal says why there is no copy, and what to do. Summary goes on after the name of the file.
type Refusal struct{ Summary, Hint string }

// Make makes the copy of a photograph, a JPEG or a PNG by what is in it. The same bytes give the same copy. A photograph that is
// small enough keeps its size. Several goroutines may call it at once; it waits until there is memory for the photograph.
func Make(raw []byte) (made *Copy, no *Refusal) {
	kind := kindOf(raw)
	if kind != jpegKind && kind != pngKind {
		return nil, foreign(kind)
	}
	defer func() { // whatever a file does to a decoder, it takes no book away
		if r := recover(); r != nil {
			made, no = nil, broken(kind, nil)
		}
	}()
	size, picture, up := jpeg.DecodeConfig, jpeg.Decode, jpegUp
	if kind == pngKind {
		size, picture, up = png.DecodeConfig, png.Decode, pngUp
	}
	config, err := size(bytes.NewReader(raw))
	switch {
	case err != nil:
		return nil, broken(kind, err)
	case max(config.Width, config.Height) > mostSide || int64(config.Width)*int64(config.Height) > MostPixels:
		return nil, &Refusal{fmt.Sprintf("has %d by %d pixels, the most is %d million, and %d to a side", config.Width, config.Height, MostPixels/1_000_000, mostSide),
			"put a smaller copy in its place; the book shows no more than " + fmt.Sprint(Longest) + " pixels on the longer side"}
	}
	defer memory.take(int64(config.Width) * int64(config.Height))()
	m, err := picture(bytes.NewReader(raw))
	if err != nil {
		return nil, broken(kind, err)
	}
	if m.Bounds().Empty() {
		return nil, broken(kind, nil)
	}
	wide, high := fit(m.Bounds().Dx(), m.Bounds().Dy())
	small := shrink(m, wide, high, up(raw))
	data, ending, err := encode(small, kind)
	if err != nil {
		return nil, broken(kind, err)
	}
	return &Copy{stem(raw) + ending, data, small.Bounds().Dx(), small.Bounds().Dy()}, nil
}

// stem is the name of a photograph's copy without its ending: a copy with this name has the bytes that Make would give.
func stem(raw []byte) string {
	sum := sha256.New()
	_, _ = io.WriteString(sum, recipe+"\n")
	_, _ = sum.Write(raw)
	const shown = 24 // hexadecimal digits: no two pictures of a job will share them
	return hex.EncodeToString(sum.Sum(nil))[:shown]
}

// kept finds the copy of a photograph among those that were made before; nil where it is not there. before gives a file by its name.
func kept(raw []byte, before func(name string) ([]byte, bool)) *Copy {
	if kind := kindOf(raw); kind != jpegKind && kind != pngKind {
		return nil
	}
	name, size := stem(raw)+".jpg", jpeg.DecodeConfig
	data, ok := before(name)
	if !ok {
		name, size = stem(raw)+".png", png.DecodeConfig
		data, ok = before(name)
	}
	if !ok {
		return nil
	}
	config, err := size(bytes.NewReader(data))
	if err != nil {
		return nil
	}
	return &Copy{name, data, config.Width, config.Height}
}

// encode writes a copy. Only a PNG that is no longer as one stays a PNG: a drawing or a picture of a screen, not a photograph.
func encode(m image.Image, kind string) (data []byte, ending string, err error) {
	ending = ".png"
	if kind == pngKind {
		data = encodePNG(m, leastJPEG(m)) // no JPEG of it need be made
	}
	if data == nil {
		var out bytes.Buffer
		if err := jpeg.Encode(&out, m, &jpeg.Options{Quality: quality}); err != nil {
			return nil, "", err
		}
		data, ending = out.Bytes(), ".jpg"
		if kind == pngKind {
			if other := encodePNG(m, len(data)); other != nil {
				data, ending = other, ".png"
			}
		}
	}
	return data, ending, nil
}

// leastJPEG is a number of bytes that no JPEG of a picture is shorter than: one colour all over. With the code words of ITU-T T.81 annex K.3, which the encoder uses, a block of 8 by 8 samples that is like the one before takes
// 2 bits for that and 4 for its end, one of colour 2 and 2; sixteen by sixteen pixels are four blocks and two of colour. Grey ones have none.
func leastJPEG(m image.Image) int {
	each := func(side int) int { return (m.Bounds().Dx() + side - 1) / side * ((m.Bounds().Dy() + side - 1) / side) }
	if _, ok := m.(*image.Gray); ok {
		return each(8) * (2 + 4) / 8
	}
	return each(16) * (4*(2+4) + 2*(2+2)) / 8
}

// encodePNG gives a picture as a PNG; nil where that is longer than so many bytes, which is given up as soon as it is known.
func encodePNG(m image.Image, most int) []byte {
	out := atMost{most: most}
	if png.Encode(&out, m) != nil {
		return nil
	}
	return out.data
}

// atMost holds what is written to it, up to so many bytes.
type atMost struct {
	data []byte
	most int
}

func (a *atMost) Write(p []byte) (int, error) {
	if len(a.data)+len(p) > a.most {
		return 0, io.ErrShortWrite
	}
	a.data = append(a.data, p...)
	return len(p), nil
}

// What a file is, by how it begins.
const (
	jpegKind = "JPEG"
	pngKind  = "PNG"
	webpKind = "WebP"
	heicKind = "HEIC or AVIF"
)

func kindOf(raw []byte) string {
	begins := func(at int, text string) bool { return len(raw) >= at && bytes.HasPrefix(raw[at:], []byte(text)) }
	switch {
	case begins(0, "\xff\xd8\xff"):
		return jpegKind
	case begins(0, "\x89PNG\r\n\x1a\n"):
		return pngKind
	case begins(0, "RIFF") && begins(8, "WEBP"):
		return webpKind
	case begins(4, "ftyp"):
		for _, brand := range []string{"heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif", "avis"} { // ISO/IEC 23008-12 annex B, AVIF 1.1 section 6
			if begins(8, brand) {
				return heicKind
			}
		}
	}
	return ""
}

func foreign(kind string) *Refusal {
	switch kind {
	case "":
		return &Refusal{"is neither a JPEG nor a PNG", "put a JPEG or a PNG in its place; what counts is what is in the file, not how its name ends"}
	case heicKind:
		return &Refusal{"is " + kind + ", which is not read", "have the phone save photographs as JPEG, or put a JPEG copy in its place"}
	}
	return &Refusal{"is " + kind + ", which is not read", "put a JPEG or a PNG copy in its place"}
}

// broken is what a decoder could not read, in words that do not change with the decoder's.
func broken(kind string, err error) *Refusal {
	why := "it is broken, or only a part of it is there"
	var ofJPEG jpeg.UnsupportedError
	var ofPNG png.UnsupportedError
	if errors.As(err, &ofJPEG) || errors.As(err, &ofPNG) {
		why = "it is of an unusual sort"
	}
	return &Refusal{fmt.Sprintf("cannot be read as a %s: %s", kind, why), "copy it from the camera again, or save it anew as an ordinary JPEG"}
}

// shrink scales a picture to wide by high, as it is stored, and makes it upright and without what shows through it.
func shrink(m image.Image, wide, high int, up turn) image.Image {
	b := m.Bounds()
	box := image.Rect(0, 0, wide, high)
	if up.sideways() {
		box = image.Rect(0, 0, high, wide)
	}
	columns, rows := up.mirrored()
	// plane scales one plane. A sample of it stands for so many pixels across and down, and one of the result for each of both.
	plane := func(across, down, each, values int, row func(y int) []byte) []byte {
		pix := average(shares(line{b.Dx(), across}, line{wide, each}, columns), shares(line{b.Dy(), down}, line{high, each}, rows), values, row)
		if up.sideways() {
			return transposed(pix, line{wide, each}.samples(), line{high, each}.samples(), values)
		}
		return pix
	}
	stored := func(pix []byte, start, stride, length int) func(int) []byte {
		return func(y int) []byte { return pix[start+y*stride:][:length] }
	}
	switch m := m.(type) {
	case *image.YCbCr: // plane by plane, as it is stored and as it is encoded: the result has one sample of colour for two by two pixels
		across, down := chroma(m.SubsampleRatio)
		at, colour, w := m.YOffset(b.Min.X, b.Min.Y), m.COffset(b.Min.X, b.Min.Y), line{b.Dx(), across}.samples()
		return &image.YCbCr{
			Y:  plane(1, 1, 1, 1, stored(m.Y, at, m.YStride, b.Dx())),
			Cb: plane(across, down, 2, 1, stored(m.Cb, colour, m.CStride, w)), Cr: plane(across, down, 2, 1, stored(m.Cr, colour, m.CStride, w)),
			YStride: box.Dx(), CStride: line{box.Dx(), 2}.samples(), SubsampleRatio: image.YCbCrSubsampleRatio420, Rect: box,
		}
	case *image.Gray:
		return &image.Gray{Pix: plane(1, 1, 1, 1, stored(m.Pix, m.PixOffset(b.Min.X, b.Min.Y), m.Stride, b.Dx())), Stride: box.Dx(), Rect: box}
	case *image.Paletted:
		if wide == b.Dx() && high == b.Dy() && m.Opaque() { // nothing is mixed, so its colours stay the few that they are
			pix := plane(1, 1, 1, 1, stored(m.Pix, m.PixOffset(b.Min.X, b.Min.Y), m.Stride, b.Dx()))
			return &image.Paletted{Pix: pix, Stride: box.Dx(), Rect: box, Palette: used(pix, m.Palette)}
		}
	}
	const values = 4 // red, green, blue, and how much it covers
	white := image.NewUniform(color.White)
	on, had := image.NewRGBA(image.Rect(0, 0, b.Dx(), 1)), -1
	return &image.RGBA{Pix: plane(1, 1, 1, values, func(y int) []byte {
		if y != had {
			draw.Draw(on, on.Rect, white, image.Point{}, draw.Src)
			draw.Draw(on, on.Rect, m, image.Pt(b.Min.X, b.Min.Y+y), draw.Over)
			had = y
		}
		return on.Pix
	}), Stride: values * box.Dx(), Rect: box}
}

// used is a palette up to the last colour that pixels have; one that none has is black, for it is nothing of the picture.
func used(pix []byte, all color.Palette) color.Palette {
	var there [256]bool
	for _, i := range pix {
		there[i] = true
	}
	out := slices.Clone(all[:slices.Max(pix)+1])
	for i := range out {
		if !there[i] {
			out[i] = color.Black
		}
	}
	return out
}

// fit is the size of a copy.
func fit(wide, high int) (int, int) {
	scaled := func(side, long int) int { return max(1, (side*Longest+long/2)/long) }
	switch {
	case max(wide, high) <= Longest:
		return wide, high
	case wide >= high:
		return Longest, scaled(high, wide)
	}
	return scaled(wide, high), Longest
}

// chroma is how many pixels across and down share one sample of colour.
func chroma(r image.YCbCrSubsampleRatio) (across, down int) {
	switch r {
	case image.YCbCrSubsampleRatio422:
		return 2, 1
	case image.YCbCrSubsampleRatio420:
		return 2, 2
	case image.YCbCrSubsampleRatio440:
		return 1, 2
	case image.YCbCrSubsampleRatio411:
		return 4, 1
	case image.YCbCrSubsampleRatio410:
		return 4, 2
	}
	return 1, 1
}
