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
)

const (
	// Longest is the longest side of a copy in pixels: a sheet's width on paper at 230 pixels to the inch, and more than a phone shows.
	Longest = 1600
	// MostPixels is the most that a photograph may have, 8192 by 8192: more than any phone takes as a rule, and a bound on memory.
	// An ordinary JPEG takes up to 3 bytes for each of them while it is read, the least thrifty of either kind up to 15.
	MostPixels = 1 << 26

	mostSide = 1<<16 - 1 // pixels: what a JPEG can have, and a bound on sums
	quality  = 82        // of a JPEG, out of 100: by eye no difference from the photograph at this size, about 300 kB
)

// Copy is a photograph as the book holds it.
type Copy struct {
	Name       string // of the file: a hash of its bytes, and .jpg or .png
	Data       []byte
	Wide, High int // pixels, upright
}

// Refusal says why there is no copy, and what to do. Summary goes on after the name of the file.
type Refusal struct{ Summary, Hint string }

// Make makes the copy of a photograph, a JPEG or a PNG by what is in it. The same bytes give the same copy. A photograph that is
// small enough keeps its size.
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
	m, err := picture(bytes.NewReader(raw))
	if err != nil {
		return nil, broken(kind, err)
	}
	if m.Bounds().Empty() {
		return nil, broken(kind, nil)
	}
	small := shrink(m, up(raw))
	made, err = encode(small, kind)
	if err != nil {
		return nil, broken(kind, err)
	}
	return made, nil
}

// encode writes a copy. Only a PNG that is no longer as one stays a PNG: a drawing or a picture of a screen, not a photograph.
func encode(m image.Image, kind string) (*Copy, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	data, ending := out.Bytes(), ".jpg"
	if kind == pngKind {
		var other bytes.Buffer
		if err := png.Encode(&other, m); err != nil {
			return nil, err
		}
		if other.Len() <= out.Len() {
			data, ending = other.Bytes(), ".png"
		}
	}
	sum := sha256.Sum256(data)
	const shown = 24 // hexadecimal digits: no two pictures of a job will share them
	return &Copy{hex.EncodeToString(sum[:])[:shown] + ending, data, m.Bounds().Dx(), m.Bounds().Dy()}, nil
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

// shrink makes a picture no larger than Longest, upright, and without what shows through it.
func shrink(m image.Image, up turn) image.Image {
	b := m.Bounds()
	wide, high := fit(b.Dx(), b.Dy())
	box := image.Rect(0, 0, wide, high)
	if up.sideways() {
		box = image.Rect(0, 0, high, wide)
	}
	plane := func(w, h, samples int, row func(y int) []byte) []byte {
		return up.pixels(average(w, h, wide, high, samples, row), wide, high, samples)
	}
	rows := func(pix []byte, start, stride, length int) func(int) []byte {
		return func(y int) []byte { return pix[start+y*stride:][:length] }
	}
	switch m := m.(type) {
	case *image.YCbCr: // plane by plane, as it is stored; the planes of colour are taken to be as wide as that of brightness, half a pixel more or less
		across, down := chroma(m.SubsampleRatio)
		w, h := (b.Dx()+across-1)/across, (b.Dy()+down-1)/down
		at, colour := m.YOffset(b.Min.X, b.Min.Y), m.COffset(b.Min.X, b.Min.Y)
		return &image.YCbCr{
			Y:  plane(b.Dx(), b.Dy(), 1, rows(m.Y, at, m.YStride, b.Dx())),
			Cb: plane(w, h, 1, rows(m.Cb, colour, m.CStride, w)), Cr: plane(w, h, 1, rows(m.Cr, colour, m.CStride, w)),
			YStride: box.Dx(), CStride: box.Dx(), SubsampleRatio: image.YCbCrSubsampleRatio444, Rect: box,
		}
	case *image.Gray:
		return &image.Gray{Pix: plane(b.Dx(), b.Dy(), 1, rows(m.Pix, m.PixOffset(b.Min.X, b.Min.Y), m.Stride, b.Dx())), Stride: box.Dx(), Rect: box}
	}
	const samples = 4 // red, green, blue, and how much it covers
	line := image.NewRGBA(image.Rect(0, 0, b.Dx(), 1))
	white := image.NewUniform(color.White)
	return &image.RGBA{Pix: plane(b.Dx(), b.Dy(), samples, func(y int) []byte {
		draw.Draw(line, line.Rect, white, image.Point{}, draw.Src)
		draw.Draw(line, line.Rect, m, image.Pt(b.Min.X, b.Min.Y+y), draw.Over)
		return line.Pix
	}), Stride: samples * box.Dx(), Rect: box}
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
