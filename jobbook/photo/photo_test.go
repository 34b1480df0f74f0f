package photo

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

// A photograph of the tests' own: four quarters, by where they belong when it stands upright.
var quarters = [2][2]color.RGBA{
	{{200, 40, 40, 255}, {40, 160, 60, 255}}, // above: red, green
	{{40, 60, 200, 255}, {230, 230, 230, 255}},
}

func quartered(wide, high int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			m.SetRGBA(x, y, quarters[2*y/high][2*x/wide])
		}
	}
	return m
}

func asJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// secrets are what a camera puts beside the picture; none of it may come through.
var secrets = []string{"Exif", "GPS", "MAKER-QZ", "2026:11:09", "http://ns.adobe.com/xap", "Photoshop 3.0", "8BIM", "ICC_PROFILE", "a comment QZ", "thumbnail QZ", "eXIf", "tEXt", "iTXt"}

// exif is a TIFF with a maker, a turn, a position (51° 28' 38" N) and a second directory with a thumbnail, in either order of bytes.
func exif(order binary.AppendByteOrder, up int) []byte {
	mark := "II"
	if order == binary.AppendByteOrder(binary.BigEndian) {
		mark = "MM"
	}
	out := order.AppendUint32(order.AppendUint16([]byte(mark), 42), 8)
	entry := func(tag, kind uint16, count uint32, value []byte) {
		out = append(order.AppendUint32(order.AppendUint16(order.AppendUint16(out, tag), kind), count), value...)
	}
	long := func(v uint32) []byte { return order.AppendUint32(nil, v) }
	const first, gps, data = 8, 8 + 2 + 4*12 + 4, 8 + 2 + 4*12 + 4 + 2 + 2*12 + 4
	out = order.AppendUint16(out, 4)
	entry(0x010f, 2, 9, long(data)) // maker
	entry(0x0112, 3, 1, append(order.AppendUint16(nil, uint16(up)), 0, 0))
	entry(0x0132, 2, 20, long(data+12)) // day and time
	entry(0x8825, 4, 1, long(gps))
	out = order.AppendUint32(out, data+12+20+24) // the thumbnail's directory
	out = order.AppendUint16(out, 2)
	entry(1, 2, 2, []byte("N\x00\x00\x00"))
	entry(2, 5, 3, long(data+12+20))
	out = order.AppendUint32(out, 0)
	out = append(out, "MAKER-QZ\x00GPS2026:11:09 10:11:12\x00"...)
	for _, v := range []uint32{51, 1, 28, 1, 38, 1} {
		out = order.AppendUint32(out, v)
	}
	return append(order.AppendUint32(order.AppendUint16(out, 0), 0), "thumbnail QZ"...)
}

func segment(marker byte, body string) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(body)+2)), body...)
}

// dressed is a JPEG as cameras and programs leave it: Exif with a position, XMP, IPTC, a profile, a comment, and a second picture behind the first.
func dressed(plain, tiff []byte) []byte {
	out := append([]byte{}, plain[:2]...)
	out = append(out, segment(0xe0, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00")...)
	out = append(out, segment(0xe1, "Exif\x00\x00"+string(tiff))...)
	out = append(out, segment(0xe1, "http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta exif:GPSLatitude='51,28.6N'/>")...)
	out = append(out, segment(0xed, "Photoshop 3.0\x008BIM\x04\x04 somewhere")...)
	out = append(out, segment(0xe2, "ICC_PROFILE\x00\x01\x01 profile")...)
	out = append(out, segment(0xfe, "a comment QZ")...)
	out = append(out, plain[2:]...)
	return append(out, "thumbnail QZ"...)
}

func chunk(kind, body string) []byte {
	out := append(binary.BigEndian.AppendUint32(nil, uint32(len(body))), kind+body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE([]byte(kind+body)))
}

// dressedPNG is a PNG with Exif and words before its pixels.
func dressedPNG(plain, tiff []byte) []byte {
	const header = 8 + 25 // signature and IHDR
	out := append([]byte{}, plain[:header]...)
	out = append(out, chunk("eXIf", string(tiff))...)
	out = append(out, chunk("tEXt", "Comment\x00a comment QZ")...)
	out = append(out, chunk("iTXt", "XML:com.adobe.xmp\x00\x00\x00\x00\x00http://ns.adobe.com/xap/1.0/")...)
	return append(out, plain[header:]...)
}

// decoded reads a copy and compares its name and size with what it says of itself.
func decoded(t *testing.T, c *Copy) image.Image {
	t.Helper()
	m, kind, err := image.Decode(bytes.NewReader(c.Data))
	if err != nil {
		t.Fatal(err)
	}
	if m.Bounds() != image.Rect(0, 0, c.Wide, c.High) {
		t.Errorf("the copy is %v, it says %d by %d", m.Bounds(), c.Wide, c.High)
	}
	if want := map[string]string{"jpeg": ".jpg", "png": ".png"}[kind]; !strings.HasSuffix(c.Name, want) {
		t.Errorf("a %s is named %s", kind, c.Name)
	}
	return m
}

// near compares a pixel with a colour; a JPEG changes each a little.
func near(t *testing.T, m image.Image, x, y int, want color.RGBA) {
	t.Helper()
	got := color.RGBAModel.Convert(m.At(x, y)).(color.RGBA)
	for _, d := range []int{int(got.R) - int(want.R), int(got.G) - int(want.G), int(got.B) - int(want.B)} {
		if d < -12 || d > 12 {
			t.Errorf("pixel %d, %d is %v, want about %v", x, y, got, want)
			return
		}
	}
}

// stored lays an upright picture down as a camera does that writes the turn beside it: by the table of the standard (TIFF 6.0, Orientation), which says
// which side of the scene the first stored row and the first stored column are.
func stored(m *image.RGBA, up int) *image.RGBA {
	table := map[int][2]string{1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"}, 5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"}}
	row, column := table[up][0], table[up][1]
	w, h := m.Rect.Dx(), m.Rect.Dy()
	if row == "left" || row == "right" {
		w, h = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for r := range h {
		for c := range w {
			var x, y int
			for side, n := range map[string]int{row: r, column: c} { // the r-th row lies r pixels in from its side
				switch side {
				case "top":
					y = n
				case "bottom":
					y = m.Rect.Dy() - 1 - n
				case "left":
					x = n
				case "right":
					x = m.Rect.Dx() - 1 - n
				}
			}
			out.SetRGBA(c, r, m.RGBAAt(x, y))
		}
	}
	return out
}

// TestUprightAndBare: whichever way a photograph was stored, its copy stands upright, and has none of what the camera wrote beside it.
func TestUprightAndBare(t *testing.T) {
	const wide, high = 96, 64
	for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
		for up := 1; up <= 8; up++ {
			m := stored(quartered(wide, high), up)
			tiff := exif(order, up)
			for kind, raw := range map[string][]byte{"JPEG": dressed(asJPEG(t, m), tiff), "PNG": dressedPNG(asPNG(t, m), tiff)} {
				if _, _, err := image.Decode(bytes.NewReader(raw)); err != nil {
					t.Fatalf("the test's own %s cannot be read: %v", kind, err)
				}
				if !bytes.Contains(raw, []byte("MAKER-QZ\x00GPS2026:11:09")) {
					t.Fatal("the test's own file holds no secrets")
				}
				c, no := Make(raw)
				if no != nil {
					t.Fatalf("%s, turn %d: %s", kind, up, no.Summary)
				}
				for _, s := range secrets {
					if bytes.Contains(c.Data, []byte(s)) {
						t.Errorf("%s, turn %d: %q is in the copy", kind, up, s)
					}
				}
				got := decoded(t, c)
				if c.Wide != wide || c.High != high {
					t.Fatalf("%s, turn %d: the copy is %d by %d", kind, up, c.Wide, c.High)
				}
				for i, row := range quarters {
					for j, want := range row {
						near(t, got, wide/4+j*wide/2, high/4+i*high/2, want)
					}
				}
			}
		}
	}
}

// TestOnlyThePicture walks a copy by the markers of its format: nothing is there but what a decoder needs, and nothing behind the end.
func TestOnlyThePicture(t *testing.T) {
	c, no := Make(dressed(asJPEG(t, quartered(3000, 2000)), exif(binary.BigEndian, 6)))
	if no != nil {
		t.Fatal(no.Summary)
	}
	data := c.Data
	at := 2
	for data[at+1] != 0xda {
		if m := data[at+1]; m != 0xdb && m != 0xc0 && m != 0xc4 { // tables, frame
			t.Errorf("the copy has a segment %02X", m)
		}
		at += 2 + int(binary.BigEndian.Uint16(data[at+2:]))
	}
	if end := bytes.Index(data, []byte{0xff, 0xd9}); end != len(data)-2 {
		t.Errorf("%d bytes follow the end of the picture", len(data)-2-end)
	}
	drawing, no := Make(dressedPNG(asPNG(t, quartered(3000, 2000)), exif(binary.BigEndian, 1)))
	if no != nil {
		t.Fatal(no.Summary)
	}
	few := image.NewPaletted(image.Rect(0, 0, 90, 60), color.Palette{color.RGBA{'Q', 'Z', 'Q', 255}, color.White, color.NRGBA{'Z', 'Q', 'Z', 9}, color.RGBA{9, 8, 7, 255}, color.RGBA{'Q', 'Q', 'Z', 255}})
	for i := range few.Pix {
		few.Pix[i] = uint8(1 + i/7%2*2) // three of the colours are in no pixel
	}
	coloured, no := Make(dressedPNG(asPNG(t, few), exif(binary.BigEndian, 1)))
	if no != nil {
		t.Fatal(no.Summary)
	}
	for _, c := range []struct {
		data   []byte
		chunks string
	}{{drawing.Data, "IHDR IDAT IEND"}, {coloured.Data, "IHDR PLTE IDAT IEND"}} {
		for at := 8; at < len(c.data); {
			length := int(binary.BigEndian.Uint32(c.data[at:]))
			kind := string(c.data[at+4 : at+8])
			if !strings.Contains(c.chunks, kind) {
				t.Errorf("the copy has a chunk %s", kind)
			}
			if want := "\x00\x00\x00\xff\xff\xff\x00\x00\x00\x09\x08\x07"; kind == "PLTE" && string(c.data[at+8:at+8+length]) != want {
				t.Errorf("the colours are %q, want %q", c.data[at+8:at+8+length], want)
			}
			at += 12 + length
		}
	}
}

// TestSizes: the longest side is 1600 at most, the other goes with it to the nearest pixel (by hand), and nothing is enlarged.
func TestSizes(t *testing.T) {
	for _, c := range []struct{ wide, high, wantWide, wantHigh int }{
		{1, 1, 1, 1},
		{1600, 1200, 1600, 1200}, // as large as a copy can be
		{1599, 3, 1599, 3},
		{1601, 1600, 1600, 1599}, // 1600 * 1600/1601 = 1599.0006
		{4000, 3000, 1600, 1200},
		{3000, 4000, 1200, 1600},
		{2000, 3, 1600, 2},  // 2.4
		{20000, 1, 1600, 1}, // 0.08, but a picture has a pixel
	} {
		m := image.NewGray(image.Rect(0, 0, c.wide, c.high))
		for kind, raw := range map[string][]byte{"JPEG": asJPEG(t, m), "PNG": asPNG(t, m)} {
			got, no := Make(raw)
			if no != nil {
				t.Fatal(kind, c, no.Summary)
			}
			decoded(t, got)
			if got.Wide != c.wantWide || got.High != c.wantHigh {
				t.Errorf("%s of %d by %d: %d by %d, want %d by %d", kind, c.wide, c.high, got.Wide, got.High, c.wantWide, c.wantHigh)
			}
		}
	}
}

// averaged is the average of each sample of a picture of wide by high that is made of one of w by h, worked out the long way. A sample of the
// result stands for each by each pixels, at the edges for what is left of them. Every pixel of the result is cut into w by h parts, so that
// each part lies in one pixel of the picture, whose value at gives; the parts are added up one by one.
func averaged(w, h, wide, high, each int, at func(x, y int) int) (pix []byte) {
	for top := 0; top < high; top += each {
		for left := 0; left < wide; left += each {
			sum, count := 0, 0
			for y := top * h; y < min(top+each, high)*h; y++ {
				for x := left * w; x < min(left+each, wide)*w; x++ {
					sum += at(x/wide, y/high)
					count++
				}
			}
			pix = append(pix, byte((2*sum+count)/(2*count))) // to the nearest, halves up
		}
	}
	return pix
}

// seen is where the pixel is stored that belongs at x, y of an upright picture of w by h: by the table of the standard (see stored).
func seen(up, w, h, x, y int) (int, int) {
	fromLeft, fromTop, fromRight, fromBottom := x, y, w-1-x, h-1-y
	switch up { // the stored row is as far in as the pixel is from where the first row belongs, and so the column
	case 2:
		return fromRight, fromTop
	case 3:
		return fromRight, fromBottom
	case 4:
		return fromLeft, fromBottom
	case 5:
		return fromTop, fromLeft
	case 6:
		return fromTop, fromRight
	case 7:
		return fromBottom, fromRight
	case 8:
		return fromBottom, fromLeft
	}
	return fromLeft, fromTop
}

// sizes are of pictures as they are stored, and of their copies.
var sizes = []struct{ w, h, wide, high int }{
	{8, 4, 8, 4}, {7, 5, 7, 5}, {1, 1, 1, 1}, {8, 8, 4, 4}, {10, 10, 1, 1}, {9, 1, 4, 1}, {1, 9, 1, 4}, {9, 7, 8, 6}, {16, 11, 7, 5}, {17, 9, 12, 7}, {40, 3, 7, 1}, {3, 2, 7, 5},
}

// TestPlanes: the planes of a copy are exact averages of what each pixel of the photograph shows, whatever way up and however it is sampled. Which samples
// a pixel shows is asked of the library (YCbCrAt), which knows no more of averages than averaged does of planes.
func TestPlanes(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	noise := func(pix []byte) {
		for i := range pix {
			pix[i] = byte(random.UintN(256))
		}
	}
	for _, ratio := range []image.YCbCrSubsampleRatio{
		image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420, image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410,
	} {
		for _, c := range sizes {
			whole := image.NewYCbCr(image.Rect(0, 0, c.w+16, c.h+16), ratio)
			noise(whole.Y)
			noise(whole.Cb)
			noise(whole.Cr)
			grey := image.NewGray(whole.Rect)
			copy(grey.Pix, whole.Y)
			box := image.Rect(8, 4, 8+c.w, 4+c.h) // a decoder gives a part of what it decoded
			m, g := whole.SubImage(box).(*image.YCbCr), grey.SubImage(box).(*image.Gray)
			for up := 1; up <= 8; up++ {
				w, h, wide, high := c.w, c.h, c.wide, c.high
				if up >= 5 {
					w, h, wide, high = h, w, high, wide
				}
				at := func(sample func(color.YCbCr) uint8) func(x, y int) int {
					return func(x, y int) int {
						x, y = seen(up, w, h, x, y)
						return int(sample(m.YCbCrAt(8+x, 4+y)))
					}
				}
				brightness := averaged(w, h, wide, high, 1, at(func(c color.YCbCr) uint8 { return c.Y }))
				got := shrink(m, c.wide, c.high, turn(up)).(*image.YCbCr)
				if got.Rect != image.Rect(0, 0, wide, high) || got.SubsampleRatio != image.YCbCrSubsampleRatio420 || got.YStride != wide || got.CStride != (wide+1)/2 {
					t.Fatalf("%v, %+v, turn %d: %v, %v, rows of %d and %d", ratio, c, up, got.Rect, got.SubsampleRatio, got.YStride, got.CStride)
				}
				for name, p := range map[string]struct{ got, want []byte }{
					"Y":    {got.Y, brightness},
					"Cb":   {got.Cb, averaged(w, h, wide, high, 2, at(func(c color.YCbCr) uint8 { return c.Cb }))},
					"Cr":   {got.Cr, averaged(w, h, wide, high, 2, at(func(c color.YCbCr) uint8 { return c.Cr }))},
					"grey": {shrink(g, c.wide, c.high, turn(up)).(*image.Gray).Pix, brightness},
				} {
					if !bytes.Equal(p.got, p.want) {
						t.Fatalf("%v, %+v, turn %d, %s:\n%v, want\n%v", ratio, c, up, name, p.got, p.want)
					}
				}
			}
		}
	}
}

// TestQuotient compares quotients with division, where they are about to change, up to the largest area that there is.
func TestQuotient(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	areas := []uint64{2, 3, 255, 1 << 16, 4*MostPixels - 1, 4 * MostPixels}
	for range 2000 {
		areas = append(areas, 2+random.Uint64N(4*MostPixels))
	}
	for _, n := range areas {
		by := divideBy(n)
		for want := range uint64(256) {
			for _, sum := range []uint64{want * n, want*n + n - 1} {
				if got := by.quotient(sum); uint64(got) != sum/n {
					t.Fatalf("%d / %d is %d, want %d", sum, n, got, sum/n)
				}
			}
		}
	}
}

// TestColours: pictures of any other kind are averaged in red, green and blue as they look on white. The expected colours are worked out in floats; they may be
// off by one where the library lays a pixel on white, and by a half where the average is rounded.
func TestColours(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	few := color.Palette{color.White, color.RGBA{40, 60, 200, 255}, color.NRGBA{200, 40, 40, 128}, color.Transparent, color.Black}
	for _, c := range sizes {
		box := image.Rect(3, 2, 3+c.w, 2+c.h)
		for name, m := range map[string]draw.Image{
			"RGBA": image.NewRGBA(box), "NRGBA": image.NewNRGBA(box), "NRGBA64": image.NewNRGBA64(box), "CMYK": image.NewCMYK(box), "Gray16": image.NewGray16(box), "few": image.NewPaletted(box, few),
			"few, opaque": image.NewPaletted(box, few[:2]),
		} {
			for y := box.Min.Y; y < box.Max.Y; y++ {
				for x := box.Min.X; x < box.Max.X; x++ {
					m.Set(x, y, color.NRGBA{uint8(random.UintN(256)), uint8(random.UintN(256)), uint8(random.UintN(256)), uint8(random.UintN(256))})
				}
			}
			for up := 1; up <= 8; up++ {
				w, h, wide, high := c.w, c.h, c.wide, c.high
				if up >= 5 {
					w, h, wide, high = h, w, high, wide
				}
				got := shrink(m, c.wide, c.high, turn(up))
				if got.Bounds() != image.Rect(0, 0, wide, high) {
					t.Fatalf("%s, %+v, turn %d: %v", name, c, up, got.Bounds())
				}
				for y := range high {
					for x := range wide {
						var want [3]float64
						for i := range w * h { // of one pixel of the result, w by h parts
							fromX, fromY := seen(up, w, h, (x*w+i%w)/wide, (y*h+i/w)/high)
							r, g, b, a := m.At(3+fromX, 2+fromY).RGBA() // what covers of each colour; the rest is white
							for s, v := range [3]uint32{r, g, b} {
								want[s] += (float64(v) + float64(0xffff-a)) / 257 / float64(w*h)
							}
						}
						r, g, b, a := got.At(x, y).RGBA()
						for s, v := range [3]uint32{r, g, b} {
							if d := float64(v)/257 - want[s]; d < -1.5 || d > 1.5 || a != 0xffff {
								t.Fatalf("%s, %+v, turn %d: pixel %d, %d is %v, want %v", name, c, up, x, y, got.At(x, y), want)
							}
						}
					}
				}
			}
		}
	}
}

// TestKinds: pictures of every kind that the decoders give come out as they look on white.
func TestKinds(t *testing.T) {
	square := image.Rect(0, 0, 40, 40)
	grey := image.NewUniform(color.Gray{90})
	clear := image.NewNRGBA(square) // the left half can be seen through
	draw.Draw(clear, image.Rect(20, 0, 40, 40), image.NewUniform(color.NRGBA{200, 40, 40, 255}), image.Point{}, draw.Src)
	paletted := image.NewPaletted(square, color.Palette{color.White, color.RGBA{40, 60, 200, 255}})
	draw.Draw(paletted, image.Rect(20, 0, 40, 40), image.NewUniform(color.RGBA{40, 60, 200, 255}), image.Point{}, draw.Src)
	deep := image.NewNRGBA64(square)
	draw.Draw(deep, square, grey, image.Point{}, draw.Src)
	greyJPEG := image.NewGray(square)
	draw.Draw(greyJPEG, square, grey, image.Point{}, draw.Src)
	white := color.RGBA{255, 255, 255, 255}
	for name, c := range map[string]struct {
		raw         []byte
		left, right color.RGBA
		ending      string
	}{
		"seen through": {asPNG(t, clear), white, color.RGBA{200, 40, 40, 255}, ".png"},
		"few colours":  {asPNG(t, paletted), white, color.RGBA{40, 60, 200, 255}, ".png"},
		"16 bits":      {asPNG(t, deep), color.RGBA{90, 90, 90, 255}, color.RGBA{90, 90, 90, 255}, ".png"},
		"grey JPEG":    {asJPEG(t, greyJPEG), color.RGBA{90, 90, 90, 255}, color.RGBA{90, 90, 90, 255}, ".jpg"},
	} {
		got, no := Make(c.raw)
		if no != nil {
			t.Fatal(name, no.Summary)
		}
		if !strings.HasSuffix(got.Name, c.ending) {
			t.Errorf("%s: a drawing became %s", name, got.Name)
		}
		m := decoded(t, got)
		near(t, m, 8, 20, c.left)
		near(t, m, 32, 20, c.right)
	}
	noise := image.NewRGBA(image.Rect(0, 0, 300, 200))
	random := rand.New(rand.NewPCG(3, 4))
	for i := range noise.Pix {
		noise.Pix[i] = byte(random.UintN(256)) | 3*byte(i%4/3)<<6 // opaque enough
	}
	if got, no := Make(asPNG(t, noise)); no != nil || !strings.HasSuffix(got.Name, ".jpg") {
		t.Errorf("a PNG that is a photograph stays one: %+v", no)
	}
}

// TestRefused compares what is said of files that are no photographs, whole.
func TestRefused(t *testing.T) {
	whole := asJPEG(t, quartered(200, 100))
	head := func(wide, high uint32) string { // of a PNG, as far as its size
		body := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, wide), high)
		return "\x89PNG\r\n\x1a\n" + string(chunk("IHDR", string(body)+"\x08\x02\x00\x00\x00"))
	}
	for name, c := range map[string]struct{ raw, summary, hint string }{
		"nothing":      {"", "is neither a JPEG nor a PNG", "put a JPEG or a PNG in its place; what counts is what is in the file, not how its name ends"},
		"words":        {"kind: survey", "is neither a JPEG nor a PNG", "put a JPEG or a PNG in its place; what counts is what is in the file, not how its name ends"},
		"WebP":         {"RIFF\x10\x00\x00\x00WEBPVP8 ", "is WebP, which is not read", "put a JPEG or a PNG copy in its place"},
		"HEIC":         {"\x00\x00\x00\x18ftypheic\x00\x00", "is HEIC or AVIF, which is not read", "have the phone save photographs as JPEG, or put a JPEG copy in its place"},
		"a film":       {"\x00\x00\x00\x18ftypisom\x00\x00", "is neither a JPEG nor a PNG", "put a JPEG or a PNG in its place; what counts is what is in the file, not how its name ends"},
		"cut off":      {string(whole[:len(whole)/2]), "cannot be read as a JPEG: it is broken, or only a part of it is there", "copy it from the camera again, or save it anew as an ordinary JPEG"},
		"only begun":   {"\xff\xd8\xff", "cannot be read as a JPEG: it is broken, or only a part of it is there", "copy it from the camera again, or save it anew as an ordinary JPEG"},
		"unusual":      {strings.Replace(string(whole), "\xff\xc0\x00\x11\x08", "\xff\xc0\x00\x11\x0c", 1), "cannot be read as a JPEG: it is of an unusual sort", "copy it from the camera again, or save it anew as an ordinary JPEG"}, // 12 bits to a sample
		"too large":    {head(8192, 8193), "has 8192 by 8193 pixels, the most is 67 million, and 65535 to a side", "put a smaller copy in its place; the book shows no more than 1600 pixels on the longer side"},
		"too wide":     {head(65536, 1), "has 65536 by 1 pixels, the most is 67 million, and 65535 to a side", "put a smaller copy in its place; the book shows no more than 1600 pixels on the longer side"},
		"large enough": {head(8192, 8192), "cannot be read as a PNG: it is broken, or only a part of it is there", "copy it from the camera again, or save it anew as an ordinary JPEG"},
	} {
		made, no := Make([]byte(c.raw))
		if made != nil || no == nil {
			t.Errorf("%s: a copy was made", name)
			continue
		}
		if no.Summary != c.summary || no.Hint != c.hint {
			t.Errorf("%s:\n%q\n%q\nwant\n%q\n%q", name, no.Summary, no.Hint, c.summary, c.hint)
		}
	}
}

// TestMemo: the same bytes are worked out once, other bytes anew, and what was not asked for is forgotten.
func TestMemo(t *testing.T) {
	a, b := asJPEG(t, quartered(60, 40)), asJPEG(t, quartered(40, 60))
	var m Memo
	first, _ := m.Make(a)
	again, _ := m.Make(bytes.Clone(a))
	if first != again || m.Made() != 1 {
		t.Errorf("%d were made", m.Made())
	}
	m.Forget()
	m.Make(b)
	if m.Make(a); m.Made() != 2 {
		t.Errorf("%d were made, want 2: it was asked for before", m.Made())
	}
	m.Forget()
	m.Make(a)
	m.Forget() // b was not asked for
	if m.Make(b); m.Made() != 3 {
		t.Errorf("%d were made, want 3: it was forgotten", m.Made())
	}
	if _, no := m.Make([]byte("x")); no == nil {
		t.Error("no refusal")
	}
	if _, no := m.Make([]byte("x")); no == nil || m.Made() != 4 {
		t.Error("a refusal is not remembered")
	}
}

// TestTogether: of goroutines that ask for the same bytes at once, one works them out, and all have the answer.
func TestTogether(t *testing.T) {
	raws := [][]byte{asJPEG(t, quartered(60, 40)), asJPEG(t, quartered(40, 60)), []byte("x")}
	var m Memo
	var group sync.WaitGroup
	got := make([]answer, 30)
	for i := range got {
		group.Go(func() { got[i].made, got[i].no = m.Make(bytes.Clone(raws[i%len(raws)])) })
	}
	group.Wait()
	for i := range got {
		if first := &got[i%len(raws)]; got[i].made != first.made || got[i].no != first.no || (got[i].made == nil) != (i%len(raws) == 2) {
			t.Errorf("the %dth answer is another than the first for the same bytes", i)
		}
	}
	if m.Made() != len(raws) {
		t.Errorf("%d were made, want %d", m.Made(), len(raws))
	}
}

// TestRoom: no more pixels are in memory at once than there is room for, whoever waits has its turn, and all of the room is free in the end.
func TestRoom(t *testing.T) {
	const all = 100
	r := newRoom(all)
	var now, most, turns atomic.Int64
	var group sync.WaitGroup
	for i := range 60 {
		pixels := []int64{1, 30, 60, all}[i%4]
		group.Go(func() {
			free := r.take(pixels)
			if n := now.Add(pixels); n > all {
				most.Store(n)
			}
			turns.Add(1)
			runtime.Gosched()
			now.Add(-pixels)
			free()
		})
	}
	group.Wait()
	if most.Load() > 0 || turns.Load() != 60 || r.left != all {
		t.Errorf("%d pixels at once, %d turns, %d pixels of room in the end", most.Load(), turns.Load(), r.left)
	}
}

// TestRoomIsGivenBack: whatever becomes of a photograph, its room is free again.
func TestRoomIsGivenBack(t *testing.T) {
	whole := asJPEG(t, quartered(200, 100))
	for _, raw := range [][]byte{whole, whole[:len(whole)/2], asPNG(t, quartered(30, 20)), []byte("x")} {
		Make(raw)
	}
	if memory.left != MostPixels {
		t.Errorf("%d pixels are still taken", MostPixels-memory.left)
	}
}

// TestSameBytes: a copy depends on nothing but the bytes.
func TestSameBytes(t *testing.T) {
	raw := dressed(asJPEG(t, quartered(1700, 900)), exif(binary.LittleEndian, 8))
	a, _ := Make(raw)
	b, _ := Make(bytes.Clone(raw))
	if a.Name != b.Name || !bytes.Equal(a.Data, b.Data) {
		t.Error("the copies differ")
	}
}

// FuzzMake: whatever the bytes are, there is a copy that can be read or a refusal with words, and no panic gets out.
func FuzzMake(f *testing.F) {
	small := quartered(24, 16)
	for _, raw := range [][]byte{
		dressed(asJPEG(f, small), exif(binary.LittleEndian, 6)), dressedPNG(asPNG(f, small), exif(binary.BigEndian, 3)),
		asJPEG(f, image.NewGray(image.Rect(0, 0, 9, 9))), []byte("\xff\xd8\xff"), []byte("RIFF....WEBP"), nil,
	} {
		f.Add(raw)
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if config, _, err := image.DecodeConfig(bytes.NewReader(raw)); err == nil && config.Width*config.Height > 1<<20 {
			return // right, but slow
		}
		c, no := Make(raw)
		if (c == nil) == (no == nil) || no != nil && (no.Summary == "" || no.Hint == "") {
			t.Fatalf("%v, %+v", c, no)
		}
		if c == nil {
			return
		}
		if m := decoded(t, c); max(m.Bounds().Dx(), m.Bounds().Dy()) > Longest {
			t.Errorf("a copy of %v", m.Bounds())
		}
	})
}

// FuzzUp: a turn is always one of the eight, whatever stands where Exif should.
func FuzzUp(f *testing.F) {
	f.Add(exif(binary.LittleEndian, 6))
	f.Add(exif(binary.BigEndian, 8))
	f.Add([]byte("II*\x00\x08\x00\x00\x00\xff\xff"))
	f.Add([]byte("MM\x00*\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, tiff []byte) {
		tiff = tiff[:min(len(tiff), 60_000)] // a segment holds no more
		for name, up := range map[string]turn{
			"TIFF": tiffUp(tiff), "JPEG": jpegUp(dressed([]byte{0xff, 0xd8, 0xff, 0xd9}, tiff)), "PNG": pngUp(dressedPNG(make([]byte, 40), tiff)),
			"raw JPEG": jpegUp(tiff), "raw PNG": pngUp(tiff),
		} {
			if up < upright || up > 8 {
				t.Errorf("%s: turn %d", name, up)
			}
		}
		if a, b := tiffUp(tiff), jpegUp(dressed([]byte{0xff, 0xd8, 0xff, 0xd9}, tiff)); a != b {
			t.Errorf("the same Exif by itself is %d, in a JPEG %d", a, b)
		}
	})
}

// TestNoTurn: Exif that does not say which way is up, or says nonsense, leaves a picture as it is.
func TestNoTurn(t *testing.T) {
	whole := exif(binary.BigEndian, 6)
	if tiffUp(whole) != 6 {
		t.Fatal("the test's own Exif is not read")
	}
	edit := func(at int, value ...byte) []byte {
		out := bytes.Clone(whole)
		copy(out[at:], value)
		return out
	}
	const entry = 8 + 2 + 12 // where the turn's entry is
	for name, tiff := range map[string][]byte{
		"nothing": nil, "a header alone": whole[:8], "cut off in the entry": whole[:entry+11], "0": edit(entry+8, 0, 0), "9": edit(entry+8, 0, 9),
		"another type": edit(entry+2, 0, 4), "two values": edit(entry+4, 0, 0, 0, 2), "no such order": edit(0, 'X'), "a directory beyond the end": edit(4, 0xff, 0xff, 0xff, 0xff),
		"a directory in the header": edit(4, 0, 0, 0, 0), "no entries": edit(8, 0, 0),
	} {
		if up := tiffUp(tiff); up != upright {
			t.Errorf("%s: turn %d", name, up)
		}
	}
}

// BenchmarkMake makes the copy of a photograph of 12 million pixels, as phones take them.
func BenchmarkMake(b *testing.B) {
	m := image.NewRGBA(image.Rect(0, 0, 4000, 3000))
	random := rand.New(rand.NewPCG(5, 6))
	for y := range 3000 {
		for x := range 4000 {
			n := uint8(random.UintN(16))
			m.SetRGBA(x, y, color.RGBA{uint8(x/20) + n, uint8(y/15) + n, uint8((x+y)/40) + n, 255})
		}
	}
	raw := dressed(asJPEG(b, m), exif(binary.BigEndian, 6))
	b.Run("copy", func(b *testing.B) {
		for b.Loop() {
			if _, no := Make(raw); no != nil {
				b.Fatal(no.Summary)
			}
		}
	})
	b.Run("known", func(b *testing.B) {
		var memo Memo
		for b.Loop() {
			memo.Make(raw)
		}
	})
	picture, err := jpeg.Decode(bytes.NewReader(raw))
	if err != nil {
		b.Fatal(err)
	}
	b.Run("shrink", func(b *testing.B) {
		for b.Loop() {
			shrink(picture, 1600, 1200, 6)
		}
	})
}

// BenchmarkSample makes the copies of the sample's photographs: one that is turned, one that is made smaller, and a drawing.
func BenchmarkSample(b *testing.B) {
	for _, name := range []string{"corner.jpg", "gallery-gap.jpg", "barrier.png"} {
		raw, err := os.ReadFile("../../sample-job/survey/photographs/" + name)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, no := Make(raw); no != nil {
					b.Fatal(no.Summary)
				}
			}
		})
	}
}

// TestGivenUp: a PNG is whole or not at all.
func TestGivenUp(t *testing.T) {
	m := quartered(300, 200)
	whole := asPNG(t, m)
	if got := encodePNG(m, len(whole)); !bytes.Equal(got, whole) {
		t.Errorf("%d bytes, want the %d there are room for", len(got), len(whole))
	}
	if got := encodePNG(m, len(whole)-1); got != nil {
		t.Errorf("%d bytes, want none", len(got))
	}
}

// TestLeastJPEG: no JPEG is shorter than what is reckoned of its code words, and what is in none of the blocks of one colour, its head, is all that is left.
func TestLeastJPEG(t *testing.T) {
	head := func(m image.Image) int { return len(asCopied(t, m)) } // that of one block and its bits
	for _, size := range []image.Point{{1, 1}, {8, 8}, {16, 16}, {17, 16}, {16, 33}, {900, 675}, {1600, 1200}, {3, 1000}} {
		box, one := image.Rect(0, 0, size.X, size.Y), image.Rect(0, 0, 1, 1)
		for name, m := range map[string][2]image.Image{"colour": {image.NewRGBA(box), image.NewRGBA(one)}, "grey": {image.NewGray(box), image.NewGray(one)}, "few colours": {image.NewPaletted(box, color.Palette{color.White}), image.NewPaletted(one, color.Palette{color.White})}} {
			least, is := leastJPEG(m[0]), len(asCopied(t, m[0]))
			if is < least || is > least+head(m[1])+4 {
				t.Errorf("%s, %v: %d bytes, reckoned as at least %d", name, size, is, least)
			}
		}
	}
}

// asCopied is a picture as copies are encoded.
func asCopied(t *testing.T, m image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestKept: a copy that was made before is taken as it is, and what is no copy is not.
func TestKept(t *testing.T) {
	noise := image.NewRGBA(image.Rect(0, 0, 60, 40))
	random := rand.New(rand.NewPCG(1, 2))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(random.Uint32())
	}
	for name, raw := range map[string][]byte{
		"turned":                     dressed(asJPEG(t, quartered(1700, 900)), exif(binary.LittleEndian, 8)),
		"drawing":                    asPNG(t, quartered(300, 200)),
		"PNG that becomes a JPEG":    asPNG(t, noise),
		"nothing that can be copied": []byte("kind: survey"),
	} {
		shelf := map[string][]byte{}
		memo := Memo{Before: func(name string) ([]byte, bool) { data, ok := shelf[name]; return data, ok }}
		want, no := memo.Make(raw)
		if no != nil {
			if want != nil || kept(raw, memo.Before) != nil {
				t.Errorf("%s: a copy of it", name)
			}
			continue
		}
		if kept(raw, memo.Before) != nil {
			t.Errorf("%s: a copy from an empty shelf", name)
		}
		shelf[want.Name] = want.Data
		again := Memo{Before: memo.Before}
		got, no := again.Make(raw)
		if no != nil || got.Name != want.Name || !bytes.Equal(got.Data, want.Data) || got.Wide != want.Wide || got.High != want.High || again.Made() != 0 {
			t.Errorf("%s: %+v, %d made", name, no, again.Made())
		}
		other := bytes.Clone(raw)
		other[len(other)-1] ^= 1
		if kept(other, memo.Before) != nil {
			t.Errorf("%s: another photograph has its copy", name)
		}
		shelf[want.Name] = []byte("no picture")
		if got := kept(raw, memo.Before); got != nil {
			t.Errorf("%s: taken for a copy: %+v", name, got)
		}
	}
}

// TestRecipe: who changes how copies are made, or takes an encoder that does it otherwise, raises recipe, and then these sums, which are the program's own. Else an older book's copies would be taken for today's.
func TestRecipe(t *testing.T) {
	for name, c := range map[string]struct {
		raw  []byte
		want string
	}{
		"smaller, turned": {dressed(asJPEG(t, quartered(1700, 900)), exif(binary.LittleEndian, 8)), "1 2e2f442e444952c4465f5d8d01ea22acf5c93ae0c7777c35b41ba3ade7853bbc"},
		"drawing":         {asPNG(t, quartered(300, 200)), "1 27d443bebd3652b11acaf37efcc92d648c0bc4cd383095a6d4ca07526f0bd02c"},
	} {
		made, no := Make(c.raw)
		if no != nil {
			t.Fatal(name, no)
		}
		if sum := fmt.Sprintf("%x", sha256.Sum256(made.Data)); recipe+" "+sum != c.want {
			t.Errorf("%s: %s %s", name, recipe, sum)
		}
	}
}
