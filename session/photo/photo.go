package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"os"

	"golang.org/x/image/draw"
)

// Limits, each with its reason.
const (
	MostBytes  = 32 << 20 // of the file: cameras of phones write up to 20 MiB
	mostPixels = 60e6     // phones take up to 50 million; decoded that is 240 MB at most
	mostSide   = 30000    // a panorama; beyond it is no photo
	keptSide   = 1600     // pixels of the copy's longer side: print on a fuse is legible, and ten fit into a mail
	MostKept   = 4 << 20  // bytes of a copy: what can't be written in so much is refused
	quality    = 82       // of JPEG: letters stay sharp
)

// Picture is a picture as it is kept.
type Picture struct {
	Data          []byte
	Ending        string // jpg or png
	Width, Height int    // pixels, as it is seen
}

// RefusedError says why a file can't be attached.
type RefusedError struct {
	Path    string
	What    string
	Missing bool // there is no such file
}

func (e *RefusedError) Error() string { return e.What }

func refusef(path, format string, a ...any) error {
	return &RefusedError{Path: path, What: fmt.Sprintf(format, a...)}
}

// Take reads a picture from a file and makes the copy to keep. What can't be used
// is a [RefusedError].
func Take(path string) (Picture, error) {
	src, err := read(path)
	if err != nil {
		return Picture{}, err
	}
	p, err := Clean(src)
	var refused *RefusedError
	if errors.As(err, &refused) {
		refused.Path = path
	}
	return p, err
}

// read reads a plain file. A link, a pipe, a device or a folder is refused before
// it is opened: opening a pipe waits for ever, and a link may point anywhere.
func read(path string) ([]byte, error) {
	before, err := os.Lstat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, &RefusedError{Path: path, What: "there is no such file", Missing: true}
	case err != nil:
		return nil, refusef(path, "it can't be read: %v", err)
	case before.Mode()&os.ModeSymlink != 0:
		return nil, refusef(path, "it is a link; name the file itself")
	case !before.Mode().IsRegular():
		return nil, refusef(path, "it is no plain file")
	case before.Size() > MostBytes:
		return nil, tooLarge(path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, refusef(path, "it can't be read: %v", err)
	}
	defer f.Close()
	if after, err := f.Stat(); err != nil || !os.SameFile(before, after) {
		return nil, refusef(path, "it was exchanged while it was opened")
	}
	b, err := io.ReadAll(io.LimitReader(f, MostBytes+1))
	switch {
	case err != nil:
		return nil, refusef(path, "it can't be read: %v", err)
	case len(b) > MostBytes:
		return nil, tooLarge(path)
	}
	return b, nil
}

func tooLarge(path string) error { return refusef(path, "it is larger than %d MiB", MostBytes>>20) }

// form is a kind of image file.
type form struct {
	begins string
	config func(io.Reader) (image.Config, error)
	decode func(io.Reader) (image.Image, error)
	exif   func([]byte) []byte
}

var forms = []form{
	{"\xff\xd8\xff", jpeg.DecodeConfig, jpeg.Decode, exifOfJPEG},
	{"\x89PNG\r\n\x1a\n", png.DecodeConfig, png.Decode, exifOfPNG},
}

// Clean makes of the bytes of a JPEG or PNG file the copy to keep.
func Clean(src []byte) (Picture, error) {
	var f *form
	for i := range forms {
		if bytes.HasPrefix(src, []byte(forms[i].begins)) {
			f = &forms[i]
		}
	}
	if f == nil {
		return Picture{}, refusef("", "it is neither a JPEG nor a PNG picture, whatever it is called")
	}
	c, err := f.config(bytes.NewReader(src))
	switch {
	case err != nil:
		return Picture{}, refusef("", "it is no whole picture: %v", err)
	case c.Width < 1 || c.Height < 1 || c.Width > mostSide || c.Height > mostSide || float64(c.Width)*float64(c.Height)*bytesOf(c.ColorModel) > 4*mostPixels:
		return Picture{}, refusef("", "its %d by %d pixels are more than a photo has", c.Width, c.Height)
	}
	m, err := f.decode(bytes.NewReader(src))
	if err != nil {
		return Picture{}, refusef("", "it is no whole picture: %v", err)
	}
	return write(turn(smaller(m), orientation(f.exif(src))))
}

// bytesOf is how much one pixel takes once it is decoded.
func bytesOf(m color.Model) float64 {
	switch m {
	case color.RGBA64Model, color.NRGBA64Model, color.Gray16Model:
		return 8
	}
	return 4
}

// smaller is the picture on white, with its longer side no more than keptSide.
func smaller(m image.Image) *image.RGBA {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	if long := max(w, h); long > keptSide {
		w, h = max(1, w*keptSide/long), max(1, h*keptSide/long)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	if w == m.Bounds().Dx() && h == m.Bounds().Dy() {
		draw.Draw(out, out.Bounds(), m, m.Bounds().Min, draw.Over)
		return out
	}
	draw.BiLinear.Scale(out, out.Bounds(), m, m.Bounds(), draw.Over, nil)
	return out
}

// pngBelow is how large a PNG may be before it is kept as JPEG: screens and
// drawings stay sharp as PNG, photos only get large.
const pngBelow = 400 << 10

func write(m *image.RGBA) (Picture, error) {
	p := Picture{Width: m.Bounds().Dx(), Height: m.Bounds().Dy()}
	var b bytes.Buffer
	if fewColours(m) {
		if err := png.Encode(&b, m); err == nil && b.Len() <= pngBelow {
			p.Data, p.Ending = b.Bytes(), "png"
			return p, nil
		}
	}
	b.Reset()
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil || b.Len() > MostKept {
		return Picture{}, refusef("", "no copy of it can be written")
	}
	p.Data, p.Ending = b.Bytes(), "jpg"
	return p, nil
}

// fewColours says whether a picture is a drawing or a screen rather than a photo.
func fewColours(m *image.RGBA) bool {
	const few = 4096
	seen := map[[3]byte]bool{}
	for i := 0; i+3 < len(m.Pix); i += 4 {
		seen[[3]byte{m.Pix[i], m.Pix[i+1], m.Pix[i+2]}] = true
		if len(seen) > few {
			return false
		}
	}
	return true
}
