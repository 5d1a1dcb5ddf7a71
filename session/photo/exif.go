package photo

import (
	"bytes"
	"encoding/binary"
	"image"
)

// exifOfJPEG is what a camera wrote of the picture, nil for nothing: the segment
// APP1 that begins with Exif, among those before the pixels.
func exifOfJPEG(b []byte) []byte {
	for at := 2; at+4 <= len(b) && b[at] == 0xff; {
		kind, size := b[at+1], int(binary.BigEndian.Uint16(b[at+2:]))
		end := at + 2 + size
		if kind == 0xda || size < 2 || end > len(b) {
			return nil
		}
		if data, ok := bytes.CutPrefix(b[at+4:end], []byte("Exif\x00\x00")); ok && kind == 0xe1 {
			return data
		}
		at = end
	}
	return nil
}

// exifOfPNG is the same from the chunk eXIf of a PNG.
func exifOfPNG(b []byte) []byte {
	for at := 8; at+12 <= len(b); {
		size := int64(binary.BigEndian.Uint32(b[at:]))
		end := int64(at) + 8 + size
		if end+4 > int64(len(b)) {
			return nil
		}
		if string(b[at+4:at+8]) == "eXIf" {
			return b[at+8 : end]
		}
		at = int(end) + 4
	}
	return nil
}

// orientation is how the camera was held, 1 to 8 as EXIF counts, 1 where it does
// not say: tag 0x0112 of the first directory.
func orientation(exif []byte) int {
	if len(exif) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.BigEndian
	switch string(exif[:2]) {
	case "II":
		order = binary.LittleEndian
	case "MM":
	default:
		return 1
	}
	dir := int64(order.Uint32(exif[4:]))
	if dir+2 > int64(len(exif)) {
		return 1
	}
	const entry = 12
	for i := range int64(order.Uint16(exif[dir:])) {
		at := dir + 2 + i*entry
		if at+entry > int64(len(exif)) {
			return 1
		}
		if order.Uint16(exif[at:]) == 0x0112 {
			if o := int(order.Uint16(exif[at+8:])); o >= 1 && o <= 8 {
				return o
			}
			return 1
		}
	}
	return 1
}

// turn is the picture as it was seen: o says where its first row and column are.
func turn(m *image.RGBA, o int) *image.RGBA {
	if o == 1 {
		return m
	}
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	ow, oh := w, h
	if o >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range oh {
		for x := range ow {
			var sx, sy int // where this pixel is taken from
			switch o {
			case 2:
				sx, sy = w-1-x, y
			case 3:
				sx, sy = w-1-x, h-1-y
			case 4:
				sx, sy = x, h-1-y
			case 5:
				sx, sy = y, x
			case 6:
				sx, sy = y, h-1-x
			case 7:
				sx, sy = w-1-y, h-1-x
			case 8:
				sx, sy = w-1-y, x
			}
			copy(out.Pix[out.PixOffset(x, y):], m.Pix[m.PixOffset(sx, sy):][:4])
		}
	}
	return out
}
