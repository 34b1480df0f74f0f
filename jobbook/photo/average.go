package photo

import "math/bits"

// A line is a row or a column of samples: each stands for so many pixels of the picture, the last for those that are left.
type line struct{ pixels, each int }

func (l line) samples() int { return (l.pixels + l.each - 1) / l.each }

// average works out samples from those of another picture, across and down as its shares say. Each is the average of all that it
// covers, a sample that it covers in part counting in part. It is worked out in whole numbers and rounded once, to the nearest, so
// that every machine gives the same bytes. row gives a row of the picture, as many values beside each other as a sample has; it is
// asked for neighbouring rows, one after the other, and some twice.
func average(across, down []share, values int, row func(y int) []byte) []byte {
	out := make([]byte, len(across)*len(down)*values)
	if alone(across) && alone(down) {
		return pick(out[:0], across, down, values, row)
	}
	var sums []uint32 // of what a row of the result covers, by columns of the picture: at most 255 times 2 times its height
	for k, d := range down {
		for y := d.from; y <= d.to; y++ {
			from, weight := row(y), d.weight(y)
			if sums == nil {
				sums = make([]uint32, len(from))
			}
			sums := sums[:len(from)]
			if y == d.from {
				for x, v := range from {
					sums[x] = weight * uint32(v)
				}
				continue
			}
			for x, v := range from {
				sums[x] += weight * uint32(v)
			}
		}
		length := len(across) * values
		squeeze(out[k*length:][:length], sums, across, d.total, values)
	}
	return out
}

// squeeze works out a row of average of sums that lie as the row's do, each of so many parts.
func squeeze(out []byte, sums []uint32, across []share, parts uint32, values int) {
	var by divisor
	for s := range values {
		done := s
		for i := range across {
			a := &across[i]
			if area := uint64(a.total) * uint64(parts); by.n != area {
				by = divideBy(area)
			}
			at, end := a.from*values+s, a.to*values+s
			sum := uint64(a.first)*uint64(sums[at]) + by.n/2
			if at < end {
				sum += uint64(a.last) * uint64(sums[end])
				for at += values; at < end; at += values {
					sum += uint64(a.whole) * uint64(sums[at])
				}
			}
			out[done] = by.quotient(sum)
			done += values
		}
	}
}

// alone reports that each share is of one sample: nothing is mixed.
func alone(shares []share) bool {
	for _, s := range shares {
		if s.to > s.from {
			return false
		}
	}
	return true
}

// pick is average where nothing is mixed.
func pick(out []byte, across, down []share, values int, row func(y int) []byte) []byte {
	first, last := across[0].from, across[len(across)-1].from
	for _, d := range down {
		from := row(d.from)
		if last-first == len(across)-1 { // one after the other
			out = append(out, from[first*values:][:len(across)*values]...)
			continue
		}
		for _, a := range across {
			for s := range values {
				out = append(out, from[a.from*values+s])
			}
		}
	}
	return out
}

// A divisor divides by multiplying with 2^64 / n, rounded up, which takes a tenth of the time. That is too large by less than 1/n of
// itself times n/2^64, so the quotient of a sum s is right as long as s times n is less than 2^64: s is at most 256 n here, and n
// 4 * MostPixels, or 2^28.
type divisor struct{ n, inverse uint64 }

func divideBy(n uint64) divisor { return divisor{n, ^uint64(0)/n + 1} }

// quotient is at most 255 here.
func (d divisor) quotient(s uint64) byte {
	q, _ := bits.Mul64(s, d.inverse)
	return byte(q)
}

// share is what one sample of the result takes of the samples from one to another: a part of the first and of the last, and the whole
// of those between. Where they are the same, it takes the first part.
type share struct {
	from, to                  int
	first, whole, last, total uint32
}

func (s share) weight(i int) uint32 {
	switch i {
	case s.from:
		return s.first
	case s.to:
		return s.last
	}
	return s.whole
}

// shares divides a line of the picture among the samples of one of the result. Lengths are counted in parts of which a pixel of the
// picture has as many as there are pixels in the result, and one of the result as many as there are in the picture. Mirrored, the
// first sample of the result lies at the end of the picture.
func shares(from, to line, mirrored bool) []share {
	list := make([]share, to.samples())
	whole := from.each * to.pixels
	for k := range list {
		start, end := k*to.each, min((k+1)*to.each, to.pixels)
		if mirrored {
			start, end = to.pixels-end, to.pixels-start
		}
		start, end = start*from.pixels, end*from.pixels
		s := share{from: start / whole, to: (end - 1) / whole, whole: uint32(whole), total: uint32(end - start)}
		s.first = uint32(min(end, (s.from+1)*whole) - start)
		s.last = uint32(end - max(start, s.to*whole))
		list[k] = s
	}
	return list
}
