package photo

// average scales a picture of w by h to one of wide by high. Each pixel of the result is the average of what it covers of the
// picture, a pixel that it covers in part counting in part. It is worked out in whole numbers and rounded once, to the nearest,
// so that every machine gives the same bytes. row gives a row of the picture, samples of a pixel beside each other; it is asked
// from the top down.
func average(w, h, wide, high, samples int, row func(y int) []byte) []byte {
	across, down := shares(w, wide), shares(h, high)
	out := make([]byte, 0, wide*high*samples)
	sums := make([]uint32, wide*samples) // of one row of the picture: at most 255 times its width
	all := make([]uint64, wide*samples)
	had := -1 // the row that sums are of: two rows of the result may share one
	for _, d := range down {
		clear(all)
		for i, weight := range d.weights {
			if y := d.from + i; y != had {
				had = y
				if samples == 1 {
					addOne(sums, row(y), across)
				} else {
					add(sums, row(y), across, samples)
				}
			}
			for x, s := range sums {
				all[x] += uint64(weight) * uint64(s)
			}
		}
		area := uint64(w) * uint64(h)
		for _, s := range all {
			out = append(out, byte((s+area/2)/area))
		}
	}
	return out
}

// add works out the weighted sums of a row.
func add(sums []uint32, row []byte, across []share, samples int) {
	for x, a := range across {
		to := sums[x*samples:][:samples]
		clear(to)
		from := row[a.from*samples:]
		for i, weight := range a.weights {
			for s := range to {
				to[s] += weight * uint32(from[i*samples+s])
			}
		}
	}
}

// addOne is add for one sample to a pixel, as the planes of a JPEG have it, in half the time.
func addOne(sums []uint32, row []byte, across []share) {
	for x, a := range across {
		var sum uint32
		for i, v := range row[a.from:][:len(a.weights)] {
			sum += a.weights[i] * uint32(v)
		}
		sums[x] = sum
	}
}

// share is what one pixel of the result takes: how much of each pixel from one on.
type share struct {
	from    int
	weights []uint32
}

// shares divides n pixels among m. Lengths are counted in parts of which a pixel of the n has m, and one of the m has n: the weights
// of each share add up to n.
func shares(n, m int) []share {
	list := make([]share, m)
	weights := make([]uint32, 0, n+m) // one slice for all: each share ends in the pixel that the next begins in, or at its edge
	for k := range list {
		start, end := k*n, (k+1)*n
		first := len(weights)
		for i := start / m; i*m < end; i++ {
			weights = append(weights, uint32(min(end, (i+1)*m)-max(start, i*m)))
		}
		list[k] = share{start / m, weights[first:len(weights):len(weights)]}
	}
	return list
}
