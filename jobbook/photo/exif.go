package photo

import (
	"bytes"
	"encoding/binary"
)

// turn is how a stored picture has to be turned to stand upright: the Orientation of Exif 2.32 (TIFF 6.0, tag 274), 1 to 8. 1 is
// upright already.
type turn int

const upright turn = 1

// sideways reports a turn that changes rows and columns over, which is done after any mirroring.
func (t turn) sideways() bool { return t >= 5 }

// mirrored reports that columns, and that rows, come the other way round.
func (t turn) mirrored() (columns, rows bool) {
	return t == 2 || t == 3 || t == 7 || t == 8, t == 3 || t == 4 || t == 6 || t == 7
}

// transposed changes the rows and columns of a plane of w by h over. It goes by small squares, for memory is read and written in lines.
func transposed(pix []byte, w, h, values int) []byte {
	const side = 32
	out := make([]byte, len(pix))
	for i := range values {
		for top := 0; top < h; top += side {
			for left := 0; left < w; left += side {
				for x := left; x < min(left+side, w); x++ {
					from, to := (top*w+x)*values+i, (x*h+top)*values+i
					for range min(side, h-top) {
						out[to] = pix[from]
						from += w * values
						to += values
					}
				}
			}
		}
	}
	return out
}

// jpegUp finds the turn of a JPEG in its Exif segment; upright where there is none that can be read.
func jpegUp(raw []byte) turn {
	const (
		app1, scan, end = 0xe1, 0xda, 0xd9
		head            = "Exif\x00\x00"
	)
	at := 2 // behind the start of the image
	for at+4 <= len(raw) && raw[at] == 0xff {
		marker := raw[at+1]
		switch {
		case marker == 0xff: // a fill byte
			at++
			continue
		case marker == 0x01 || marker >= 0xd0 && marker <= 0xd7: // without a length
			at += 2
			continue
		case marker == scan || marker == end:
			return upright
		}
		length := int(binary.BigEndian.Uint16(raw[at+2:])) // counts itself
		if length < 2 || at+2+length > len(raw) {
			return upright
		}
		if body := raw[at+4 : at+2+length]; marker == app1 && bytes.HasPrefix(body, []byte(head)) {
			return tiffUp(body[len(head):])
		}
		at += 2 + length
	}
	return upright
}

// pngUp finds the turn of a PNG in its eXIf chunk.
func pngUp(raw []byte) turn {
	const signature, around = 8, 12 // bytes: length, type and check sum of a chunk
	for at := signature; at+around <= len(raw); {
		length := int64(binary.BigEndian.Uint32(raw[at:]))
		if length > int64(len(raw)-at-around) {
			return upright
		}
		if string(raw[at+4:at+8]) == "eXIf" {
			return tiffUp(raw[at+8:][:length])
		}
		at += around + int(length)
	}
	return upright
}

// tiffUp finds the turn in the first directory of a TIFF.
func tiffUp(data []byte) turn {
	const (
		header, entry = 8, 12 // bytes
		orientation   = 274
		short         = 3 // the type of its value: 16 bits
	)
	if len(data) < header {
		return upright
	}
	var order binary.ByteOrder
	switch string(data[:4]) {
	case "II*\x00":
		order = binary.LittleEndian
	case "MM\x00*":
		order = binary.BigEndian
	default:
		return upright
	}
	at := int64(order.Uint32(data[4:]))
	if at < header || at+2 > int64(len(data)) {
		return upright
	}
	count := order.Uint16(data[at:])
	for rest := data[at+2:]; count > 0 && len(rest) >= entry; count, rest = count-1, rest[entry:] {
		if order.Uint16(rest) != orientation {
			continue
		}
		if t := turn(order.Uint16(rest[8:])); order.Uint16(rest[2:]) == short && order.Uint32(rest[4:]) == 1 && t >= upright && t <= 8 {
			return t
		}
		return upright
	}
	return upright
}
