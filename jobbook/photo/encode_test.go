package photo

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"
)

// TestTransform compares the coefficients of blocks, in steps, with the cosine transform as T.81, A.3.3 has it, in floats. Blocks of noise and of one value are tried,
// and those that give each coefficient the most that it can be.
func TestTransform(t *testing.T) {
	cosine := func(x, u int) float64 { return math.Cos(float64((2*x+1)*u) * math.Pi / 16) }
	var blocks [][64]int32
	random := rand.New(rand.NewPCG(11, 12))
	for range 200 {
		var b [64]int32
		for i := range b {
			b[i] = int32(random.UintN(256))
		}
		blocks = append(blocks, b)
	}
	for _, flat := range []int32{0, 1, 127, 128, 129, 255} {
		var b [64]int32
		for i := range b {
			b[i] = flat
		}
		blocks = append(blocks, b)
	}
	for u := range 64 {
		var most, least [64]int32
		for i := range most {
			if cosine(i/8, u/8)*cosine(i%8, u%8) > 0 {
				most[i] = 255
			} else {
				least[i] = 255
			}
		}
		blocks = append(blocks, most, least)
	}
	for n, samples := range blocks {
		got := block(samples)
		transform(&got)
		got[0] -= middle
		for i, at := range zigzag {
			u, v := int(at)/8, int(at)%8 // down and across
			want := 0.0
			for j, s := range samples {
				want += (float64(s) - 128) * cosine(j/8, u) * cosine(j%8, v) / 4
			}
			for _, f := range []int{u, v} {
				if f == 0 {
					want /= math.Sqrt2
				}
			}
			for table, c := range coders {
				want := want / float64(step(table, int(at)))
				if level := float64(c.level(got[at], i)); math.Abs(level-want) > 0.53 { // half a step is rounded off
					t.Errorf("block %d, coefficient %d down and %d across, table %d: %v steps, want %v", n, u, v, table, level, want)
				}
				if zero := got[at] > -c.least[i] && got[at] < c.least[i]; zero != (c.level(got[at], i) == 0) {
					t.Errorf("block %d, coefficient %d: taken to be 0 is %v, but it is %d steps", n, i, zero, c.level(got[at], i))
				}
			}
		}
	}
}

// TestEncode sets what is encoded beside what the library's encoder makes of the same picture: tables, frame and the head of the scan are the same bytes, and read again it is
// no farther from the picture.
func TestEncode(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 14))
	fill := map[string]func(pix []byte, wide int){
		"one value": func(pix []byte, _ int) {
			for i := range pix {
				pix[i] = 77
			}
		},
		"noise": func(pix []byte, _ int) {
			for i := range pix {
				pix[i] = byte(random.UintN(256))
			}
		},
		"black and white": func(pix []byte, _ int) {
			for i := range pix {
				pix[i] = byte(random.UintN(2) * 255)
			}
		},
		"slopes": func(pix []byte, wide int) {
			for i := range pix {
				pix[i] = byte(i%wide + i/wide + int(random.UintN(6)))
			}
		},
		"a few dots": func(pix []byte, _ int) { // long runs of zeros
			for range len(pix)/200 + 1 {
				pix[random.IntN(len(pix))] = 255
			}
		},
	}
	for _, size := range []image.Point{{1, 1}, {8, 8}, {16, 16}, {17, 33}, {31, 15}, {200, 3}, {3, 200}, {256, 160}, {333, 255}} {
		for name, fill := range fill {
			grey := image.NewGray(image.Rectangle{Max: size})
			fill(grey.Pix, size.X)
			m := image.NewYCbCr(grey.Rect, image.YCbCrSubsampleRatio420)
			for _, pix := range [][]byte{m.Y, m.Cb, m.Cr} {
				fill(pix, size.X)
			}
			for _, m := range []image.Image{grey, m} {
				var library bytes.Buffer
				if err := jpeg.Encode(&library, m, &jpeg.Options{Quality: quality}); err != nil {
					t.Fatal(err)
				}
				mine := encodeJPEG(m)
				scan := []byte{0xff, 0xda, 0}
				head := bytes.Index(mine, scan)
				if theirs := bytes.Index(library.Bytes(), scan); m != image.Image(grey) && !bytes.Equal(mine[:head+12], library.Bytes()[:theirs+12]) { // with a grey picture the library writes the steps of colour
					t.Fatalf("%v of %s, %T: the head differs from the library's", size, name, m)
				}
				head += 2 + int(mine[head+3])
				a, err := jpeg.Decode(bytes.NewReader(mine))
				if err != nil {
					t.Fatalf("%v of %s, %T: %v", size, name, m, err)
				}
				b, err := jpeg.Decode(&library)
				if err != nil {
					t.Fatal(err)
				}
				few := 0.01 + 2/math.Sqrt(float64(size.X*size.Y)) // levels halfway between two go either way, which evens out over many pixels
				if got, want := off(m, a), off(m, b); a.Bounds() != m.Bounds() || got > want+few*want+0.05 {
					t.Errorf("%v of %s, %T: it is off by %.3f in the mean of squares, the library's by %.3f", size, name, m, got, want)
				}
				if least := shortestJPEG(m) + head + 2; len(mine) < least || name == "one value" && len(mine) > least+8 {
					t.Errorf("%v of %s, %T: %d bytes, the shortest should have %d", size, name, m, len(mine), least)
				}
			}
		}
	}
}

// off is how far pictures of the same kind differ, in the mean of squares of brightness and of colour.
func off(a, b image.Image) float64 {
	sum, n := 0.0, 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			var p, q color.YCbCr
			if m, ok := a.(*image.YCbCr); ok {
				p, q = m.YCbCrAt(x, y), b.(*image.YCbCr).YCbCrAt(x, y)
			} else {
				p.Y, q.Y = a.(*image.Gray).GrayAt(x, y).Y, b.(*image.Gray).GrayAt(x, y).Y
			}
			for _, d := range []float64{float64(p.Y) - float64(q.Y), float64(p.Cb) - float64(q.Cb), float64(p.Cr) - float64(q.Cr)} {
				sum += d * d
			}
			n++
		}
	}
	return sum / float64(n)
}

// TestColoured: brightness and colour are those of the standard (JFIF 1.02), in floats; colour is that of the pixels there are.
func TestColoured(t *testing.T) {
	random := rand.New(rand.NewPCG(15, 16))
	for _, size := range []image.Point{{1, 1}, {2, 2}, {5, 3}, {6, 7}} {
		few := image.NewPaletted(image.Rectangle{Max: size}, color.Palette{color.White, color.RGBA{200, 40, 40, 255}, color.RGBA{1, 2, 250, 255}, color.Gray{90}})
		for i := range few.Pix {
			few.Pix[i] = uint8(random.UintN(4))
		}
		all := image.NewRGBA(few.Rect)
		draw.Draw(all, all.Rect, few, image.Point{}, draw.Src)
		for _, m := range []image.Image{few, all} {
			got := coloured(m)
			for top := 0; top < size.Y; top += 2 {
				for left := 0; left < size.X; left += 2 {
					var blue, red, n float64
					for y := top; y < min(top+2, size.Y); y++ {
						for x := left; x < min(left+2, size.X); x++ {
							c := color.RGBAModel.Convert(m.At(x, y)).(color.RGBA)
							r, g, b := float64(c.R), float64(c.G), float64(c.B)
							if want := 0.299*r + 0.587*g + 0.114*b; math.Abs(float64(got.YCbCrAt(x, y).Y)-want) > 1 {
								t.Errorf("%v: %d, %d has brightness %d, want %.2f", size, x, y, got.YCbCrAt(x, y).Y, want)
							}
							blue += 128 - 0.168736*r - 0.331264*g + 0.5*b
							red += 128 + 0.5*r - 0.418688*g - 0.081312*b
							n++
						}
					}
					if c := got.YCbCrAt(left, top); math.Abs(float64(c.Cb)-blue/n) > 1.5 || math.Abs(float64(c.Cr)-red/n) > 1.5 {
						t.Errorf("%v: %d, %d has the colour %d, %d, want %.2f, %.2f", size, left, top, c.Cb, c.Cr, blue/n, red/n)
					}
				}
			}
		}
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
