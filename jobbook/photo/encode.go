package photo

import (
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math/bits"
)

// A copy is encoded here, and not by image/jpeg, for that asks for each pixel by itself and takes three times as long. It is the plain
// sort of JPEG that every program reads: baseline, with the tables that the standard prints (ITU-T T.81, annex K), one sample of colour
// for two by two pixels, and no marker but those that a decoder needs.

const blockSide = 8

// block is 8 by 8 values, row by row.
type block [blockSide * blockSide]int32

// zigzag is the order in which the coefficients of a block are written (T.81, figure A.6).
var zigzag = [blockSide * blockSide]uint8{
	0, 1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4, 5, 12, 19, 26, 33, 40, 48, 41, 34, 27, 20, 13, 6, 7, 14, 21, 28,
	35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23, 30, 37, 44, 51, 58, 59, 52, 45, 38, 31, 39, 46, 53, 60, 61, 54, 47, 55, 62, 63,
}

// steps are the sizes of the steps in which coefficients are written (T.81, tables K.1 and K.2), of brightness and of colour, row by row.
var steps = [2][blockSide * blockSide]int64{
	{
		16, 11, 10, 16, 24, 40, 51, 61,
		12, 12, 14, 19, 26, 58, 60, 55,
		14, 13, 16, 24, 40, 57, 69, 56,
		14, 17, 22, 29, 51, 87, 80, 62,
		18, 22, 37, 56, 68, 109, 103, 77,
		24, 35, 55, 64, 81, 104, 113, 92,
		49, 64, 78, 87, 103, 121, 120, 101,
		72, 92, 95, 98, 112, 100, 103, 99,
	}, {
		17, 18, 24, 47, 99, 99, 99, 99,
		18, 21, 26, 66, 99, 99, 99, 99,
		24, 26, 56, 99, 99, 99, 99, 99,
		47, 66, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99,
	},
}

// step is the size of a step at the quality of copies: the printed ones are those of quality 50, as programs have it by custom.
func step(table, i int) int64 { return max((steps[table][i]*(200-2*quality)+50)/100, 1) }

// codes are how many codes there are of each length from 1 to 16 bits, and what each stands for, in their order (T.81, tables K.3 to K.6): for the
// first coefficient of a block of brightness and for the others of it, and for those of colour.
var codes = [4]struct {
	lengths [16]byte
	symbols string
}{
	{[16]byte{0, 1, 5, 1, 1, 1, 1, 1, 1}, "\x00\x01\x02\x03\x04\x05\x06\x07\x08\x09\x0a\x0b"},
	{[16]byte{0, 2, 1, 3, 3, 2, 4, 3, 5, 5, 4, 4, 0, 0, 1, 125}, "" +
		"\x01\x02\x03\x00\x04\x11\x05\x12\x21\x31\x41\x06\x13\x51\x61\x07\x22\x71\x14\x32\x81\x91\xa1\x08\x23\x42\xb1\xc1\x15\x52\xd1\xf0" +
		"\x24\x33\x62\x72\x82\x09\x0a\x16\x17\x18\x19\x1a\x25\x26\x27\x28\x29\x2a\x34\x35\x36\x37\x38\x39\x3a\x43\x44\x45\x46\x47\x48\x49" +
		"\x4a\x53\x54\x55\x56\x57\x58\x59\x5a\x63\x64\x65\x66\x67\x68\x69\x6a\x73\x74\x75\x76\x77\x78\x79\x7a\x83\x84\x85\x86\x87\x88\x89" +
		"\x8a\x92\x93\x94\x95\x96\x97\x98\x99\x9a\xa2\xa3\xa4\xa5\xa6\xa7\xa8\xa9\xaa\xb2\xb3\xb4\xb5\xb6\xb7\xb8\xb9\xba\xc2\xc3\xc4\xc5" +
		"\xc6\xc7\xc8\xc9\xca\xd2\xd3\xd4\xd5\xd6\xd7\xd8\xd9\xda\xe1\xe2\xe3\xe4\xe5\xe6\xe7\xe8\xe9\xea\xf1\xf2\xf3\xf4\xf5\xf6\xf7\xf8\xf9\xfa"},
	{[16]byte{0, 3, 1, 1, 1, 1, 1, 1, 1, 1, 1}, "\x00\x01\x02\x03\x04\x05\x06\x07\x08\x09\x0a\x0b"},
	{[16]byte{0, 2, 1, 2, 4, 4, 3, 4, 7, 5, 4, 4, 0, 1, 2, 119}, "" +
		"\x00\x01\x02\x03\x11\x04\x05\x21\x31\x06\x12\x41\x51\x07\x61\x71\x13\x22\x32\x81\x08\x14\x42\x91\xa1\xb1\xc1\x09\x23\x33\x52\xf0" +
		"\x15\x62\x72\xd1\x0a\x16\x24\x34\xe1\x25\xf1\x17\x18\x19\x1a\x26\x27\x28\x29\x2a\x35\x36\x37\x38\x39\x3a\x43\x44\x45\x46\x47\x48" +
		"\x49\x4a\x53\x54\x55\x56\x57\x58\x59\x5a\x63\x64\x65\x66\x67\x68\x69\x6a\x73\x74\x75\x76\x77\x78\x79\x7a\x82\x83\x84\x85\x86\x87" +
		"\x88\x89\x8a\x92\x93\x94\x95\x96\x97\x98\x99\x9a\xa2\xa3\xa4\xa5\xa6\xa7\xa8\xa9\xaa\xb2\xb3\xb4\xb5\xb6\xb7\xb8\xb9\xba\xc2\xc3" +
		"\xc4\xc5\xc6\xc7\xc8\xc9\xca\xd2\xd3\xd4\xd5\xd6\xd7\xd8\xd9\xda\xe2\xe3\xe4\xe5\xe6\xe7\xe8\xe9\xea\xf2\xf3\xf4\xf5\xf6\xf7\xf8\xf9\xfa"},
}

const (
	endOfBlock   = 0x00 // the symbol that no more coefficients follow which are not 0
	sixteenZeros = 0xf0
)

// code is a code as it is written: its bits, and how many they are.
type code struct {
	bits  uint32
	count uint8
}

// coder is what one kind of block is written with.
type coder struct {
	first, others [256]code
	inverse       [blockSide * blockSide]int64 // of what a coefficient is divided by, in the order of writing; in parts of 2^32
	least         [blockSide * blockSide]int32 // that is not 0 when it is divided; most are less
}

// coders are of brightness and of colour. They are made once; nothing writes to them.
var coders = [2]*coder{newCoder(0), newCoder(1)}

func newCoder(table int) *coder {
	c := new(coder)
	for i, to := range []*[256]code{&c.first, &c.others} {
		list := codes[2*table+i]
		next, at := uint32(0), 0 // codes of one length count up, and go on in the next with a 0 behind (T.81, annex C)
		for length, n := range list.lengths {
			for range n {
				to[list.symbols[at]] = code{next, uint8(length + 1)}
				next, at = next+1, at+1
			}
			next <<= 1
		}
	}
	for i, at := range zigzag {
		by := step(table, int(at)) * scales[at/blockSide] * scales[at%blockSide] * (8 << fraction) // in parts of 2^(2*14)
		c.inverse[i] = (1<<(32+2*14) + by/2) / by
		c.least[i] = int32((1<<31 + c.inverse[i] - 1) / c.inverse[i])
	}
	return c
}

const (
	fraction = 4                                       // bits behind the point that a block is transformed with
	middle   = 128 * blockSide * blockSide << fraction // what a block of the middle brightness has for its first coefficient
)

// scales are how much too large transform leaves the coefficients of a row or column, after the first eight times: 1 for the first, for the k-th after it the
// root of 2 times the cosine of k/16 of a half turn; in parts of 2^14.
var scales = [blockSide]int64{16384, 22725, 21407, 19266, 16384, 12873, 8867, 4520}

// transform works out the coefficients of a block, the cosine transform of T.81, A.3.3, as yet too large by scales, so that it takes five multiplications for
// a row or a column (Arai, Agui and Nakajima, "A fast DCT-SQ scheme for images", 1988).
func transform(b *block) {
	for at := 0; at < len(b); at += blockSide {
		r := b[at : at+blockSide : at+blockSide]
		r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7] = eight(r[0]<<fraction, r[1]<<fraction, r[2]<<fraction, r[3]<<fraction, r[4]<<fraction, r[5]<<fraction, r[6]<<fraction, r[7]<<fraction)
	}
	for x := range blockSide {
		c := b[x : x+57 : x+57]
		c[0], c[8], c[16], c[24], c[32], c[40], c[48], c[56] = eight(c[0], c[8], c[16], c[24], c[32], c[40], c[48], c[56])
	}
}

// eight transforms a row or a column.
func eight(a, b, c, d, e, f, g, h int32) (_, _, _, _, _, _, _, _ int32) {
	// Cosines, in parts of 2^12. With 4 bits behind the point a product stays within 2^30.
	const (
		half   = 1 << 11
		cos4   = 2896 // of 4/16 of a half turn
		cos6   = 1567 // of 6/16
		minus  = 2217 // of 2/16, less that of 6/16
		plus   = 5352 // of 2/16, and that of 6/16
		placed = 12
	)
	a, h = a+h, a-h // what is even about the middle, and what is odd
	b, g = b+g, b-g
	c, f = c+f, c-f
	d, e = d+e, d-e

	a, d = a+d, a-d
	b, c = b+c, b-c
	c = ((c+d)*cos4 + half) >> placed

	e, f, g = e+f, f+g, g+h
	turned := (e - g) * cos6
	e = (e*minus + turned + half) >> placed
	g = (g*plus + turned + half) >> placed
	f = (f*cos4 + half) >> placed
	f, h = h-f, h+f
	return a + b, h + g, d + c, f - e, a - b, f + e, d - c, h - g
}

// encoder writes a JPEG.
type encoder struct {
	out  []byte
	bits uint64 // those that are not written yet, the last of them the lowest
	held uint8  // how many they are, fewer than 32
}

// put writes up to 32 bits.
func (e *encoder) put(bits uint32, count uint8) {
	e.bits, e.held = e.bits<<count|uint64(bits), e.held+count
	if e.held < 32 {
		return
	}
	e.held -= 32
	word := uint32(e.bits >> e.held)
	if (word&^(word+0x01010101))&0x80808080 == 0 { // surely no byte of it is 0xff
		e.out = binary.BigEndian.AppendUint32(e.out, word)
		return
	}
	for shift := 24; shift >= 0; shift -= 8 {
		e.byte(byte(word >> shift))
	}
}

// byte writes a byte of coefficients: behind one that could begin a marker stands a 0.
func (e *encoder) byte(b byte) {
	e.out = append(e.out, b)
	if b == 0xff {
		e.out = append(e.out, 0)
	}
}

// end fills the last byte with ones.
func (e *encoder) end() {
	for e.put(0x7f, 7); e.held >= 8; {
		e.held -= 8
		e.byte(byte(e.bits >> e.held))
	}
}

func (e *encoder) segment(marker byte, body ...byte) {
	e.out = binary.BigEndian.AppendUint16(append(e.out, 0xff, marker), uint16(len(body)+2))
	e.out = append(e.out, body...)
}

// plane is a plane of samples as it is encoded.
type plane struct {
	pix        []byte
	wide, high int
	*coder
	last int32 // the first coefficient of the block before
}

// block writes the block of a plane that begins at x, y. Beyond the edge of the plane its last samples go on.
func (e *encoder) block(p *plane, x, y int) {
	var b block
	if x+blockSide <= p.wide && y+blockSide <= p.high {
		for j := range blockSide {
			r := p.pix[(y+j)*p.wide+x:][:blockSide]
			to := b[j*blockSide:][:blockSide]
			to[0], to[1], to[2], to[3], to[4], to[5], to[6], to[7] = int32(r[0]), int32(r[1]), int32(r[2]), int32(r[3]), int32(r[4]), int32(r[5]), int32(r[6]), int32(r[7])
		}
	} else {
		for i := range b {
			b[i] = int32(p.pix[min(y+i/blockSide, p.high-1)*p.wide+min(x+i%blockSide, p.wide-1)])
		}
	}
	transform(&b)
	first := p.level(b[0]-middle, 0)
	n, bits := size(first - p.last)
	p.last = first
	e.write(p.first[n], bits, n)
	zeros := 0
	for i := 1; i < len(b); i++ {
		v, least := b[zigzag[i]%64], p.least[i] // %64 is said to the compiler
		if -least < v && v < least {
			zeros++
			continue
		}
		for ; zeros >= 16; zeros -= 16 {
			e.write(p.others[sixteenZeros], 0, 0)
		}
		n, bits := size(p.level(v, i))
		e.write(p.others[uint8(zeros)<<4|n], bits, n)
		zeros = 0
	}
	if zeros > 0 {
		e.write(p.others[endOfBlock], 0, 0)
	}
}

// level is a coefficient in steps, to the nearest, by its place in the order of writing.
func (c *coder) level(coefficient int32, i int) int32 {
	v := int64(coefficient)
	sign := v >> 63
	level := ((v^sign-sign)*c.inverse[i] + 1<<31) >> 32
	return int32(level ^ sign - sign)
}

// size is how many bits a level takes, and those bits: of a negative one those of the next lower number (T.81, F.1.2.1).
func size(level int32) (n uint8, low uint32) {
	sign := level >> 31
	n = uint8(bits.Len32(uint32(level ^ sign - sign)))
	return n, uint32(level+sign) & (1<<n - 1)
}

// write writes a code and the bits behind it.
func (e *encoder) write(c code, low uint32, n uint8) { e.put(c.bits<<n|low, c.count+n) }

// encodeJPEG encodes a picture as shrink makes them.
func encodeJPEG(m image.Image) []byte {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	var planes []plane
	if grey, ok := m.(*image.Gray); ok {
		planes = []plane{{pix: grey.Pix, wide: w, high: h, coder: coders[0]}}
	} else {
		m := coloured(m)
		across, down := line{w, 2}.samples(), line{h, 2}.samples()
		planes = []plane{{pix: m.Y, wide: w, high: h, coder: coders[0]}, {pix: m.Cb, wide: across, high: down, coder: coders[1]}, {pix: m.Cr, wide: across, high: down, coder: coders[1]}}
	}
	e := &encoder{out: make([]byte, 0, w*h/8+1024)}
	e.head(w, h, len(planes))
	if len(planes) == 1 {
		for y := 0; y < h; y += blockSide {
			for x := 0; x < w; x += blockSide {
				e.block(&planes[0], x, y)
			}
		}
	} else {
		for y := 0; y < h; y += 2 * blockSide {
			for x := 0; x < w; x += 2 * blockSide {
				for i := range 4 {
					e.block(&planes[0], x+i%2*blockSide, y+i/2*blockSide)
				}
				e.block(&planes[1], x/2, y/2)
				e.block(&planes[2], x/2, y/2)
			}
		}
	}
	e.end()
	return append(e.out, 0xff, 0xd9)
}

// shortestJPEG is how many bytes the coefficients of a picture take at the least: a block of one colour, as the one before was, takes two codes, of 2 and 4 bits
// for brightness and of 2 and 2 for colour.
func shortestJPEG(m image.Image) int {
	blocks := func(side int) int {
		return line{m.Bounds().Dx(), side}.samples() * line{m.Bounds().Dy(), side}.samples()
	}
	if _, grey := m.(*image.Gray); grey {
		return blocks(blockSide) * (2 + 4) / 8
	}
	return blocks(2*blockSide) * (4*(2+4) + 2*(2+2)) / 8
}

// coloured is a picture in brightness and colour, with one sample of colour, their average, for two by two pixels.
func coloured(m image.Image) *image.YCbCr {
	if out, ok := m.(*image.YCbCr); ok {
		return out
	}
	from, ok := m.(*image.RGBA)
	if !ok {
		from = image.NewRGBA(m.Bounds())
		draw.Draw(from, from.Rect, m, from.Rect.Min, draw.Src)
	}
	out := image.NewYCbCr(from.Rect, image.YCbCrSubsampleRatio420)
	w, h := from.Rect.Dx(), from.Rect.Dy()
	for top := 0; top < h; top += 2 {
		for left := 0; left < w; left += 2 {
			var blue, red, n int
			for y := top; y < min(top+2, h); y++ {
				for x := left; x < min(left+2, w); x++ {
					pix := from.Pix[y*from.Stride+4*x:][:3]
					brightness, cb, cr := color.RGBToYCbCr(pix[0], pix[1], pix[2])
					out.Y[y*out.YStride+x] = brightness
					blue, red, n = blue+int(cb), red+int(cr), n+1
				}
			}
			at := top/2*out.CStride + left/2
			out.Cb[at], out.Cr[at] = byte((blue+n/2)/n), byte((red+n/2)/n)
		}
	}
	return out
}

// head writes what stands before the coefficients of a picture of so many planes: steps, the frame, codes, and the head of the scan.
func (e *encoder) head(w, h, planes int) {
	e.out = append(e.out, 0xff, 0xd8)
	var tables, frame, lists, scan []byte
	frame = append(frame, 8, byte(h>>8), byte(h), byte(w>>8), byte(w), byte(planes)) // 8 bits to a sample
	scan = append(scan, byte(planes))
	for i := range planes {
		table, sampled := byte(min(i, 1)), byte(0x11)
		if planes > 1 && i == 0 {
			sampled = 0x22 // twice as many across and down as of colour
		}
		frame = append(frame, byte(i+1), sampled, table)
		scan = append(scan, byte(i+1), table<<4|table)
	}
	for table := range min(planes, 2) {
		tables = append(tables, byte(table))
		for _, at := range zigzag {
			tables = append(tables, byte(step(table, int(at))))
		}
		for i := range 2 {
			list := codes[2*table+i]
			lists = append(append(append(lists, byte(i<<4|table)), list.lengths[:]...), list.symbols...)
		}
	}
	e.segment(0xdb, tables...)
	e.segment(0xc0, frame...)
	e.segment(0xc4, lists...)
	e.segment(0xda, append(scan, 0, 63, 0)...) // all coefficients, in one go
}
