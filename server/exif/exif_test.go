package exif

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"testing"
)

// tiff is a first directory with these tags, laid out as CIPA DC-008, 4.6.2 draws it.
func tiff(order binary.AppendByteOrder, mark string, tags ...uint16) []byte {
	out := []byte(mark)
	out = order.AppendUint16(out, 42)
	out = order.AppendUint32(out, 8)
	out = order.AppendUint16(out, uint16(len(tags)))
	for _, tag := range tags {
		out = order.AppendUint16(out, tag)
		out = order.AppendUint16(out, 4) // LONG
		out = order.AppendUint32(out, 1)
		out = order.AppendUint32(out, 0)
	}
	return order.AppendUint32(out, 0)
}

// encoded are a JPEG and a PNG as the standard library writes them.
func encoded(t *testing.T) (asJPEG, asPNG []byte) {
	t.Helper()
	var j, p bytes.Buffer
	picture := image.NewGray(image.Rect(0, 0, 9, 7))
	if err := jpeg.Encode(&j, picture, nil); err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(&p, picture); err != nil {
		t.Fatal(err)
	}
	return j.Bytes(), p.Bytes()
}

// withSegment puts an APP1 segment behind a JPEG's first marker.
func withSegment(file, body []byte) []byte {
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2))
	return bytes.Join([][]byte{file[:2], segment, body, file[2:]}, nil)
}

// withChunk puts a chunk before a PNG's last one.
func withChunk(file []byte, name string, body []byte) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	named := append([]byte(name), body...)
	chunk = binary.BigEndian.AppendUint32(append(chunk, named...), crc32.ChecksumIEEE(named))
	end := len(file) - 12
	return bytes.Join([][]byte{file[:end], chunk, file[end:]}, nil)
}

// webp is a WebP file of one lossless chunk and one more.
func webp(name string, body []byte) []byte {
	chunk := func(name string, body []byte) []byte {
		out := binary.LittleEndian.AppendUint32([]byte(name), uint32(len(body)))
		out = append(out, body...)
		return append(out, make([]byte, len(body)%2)...)
	}
	all := append(chunk("VP8L", []byte{0x2f, 1, 2}), chunk(name, body)...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(all)+4)), append([]byte("WEBP"), all...)...)
}

func TestHasLocation(t *testing.T) {
	asJPEG, asPNG := encoded(t)
	big, little := binary.BigEndian, binary.LittleEndian
	placed, unplaced := tiff(little, "II", 0x010f, 0x8769, gpsInfo), tiff(little, "II", 0x010f, 0x8769)
	head := []byte("Exif\x00\x00")
	xmp := []byte("<x exif:GPSLatitude=\"1,2N\"/>")
	for name, c := range map[string]struct {
		file []byte
		want bool
	}{
		"a plain JPEG":                      {asJPEG, false},
		"a plain PNG":                       {asPNG, false},
		"a JPEG with Exif":                  {withSegment(asJPEG, append(head, unplaced...)), false},
		"a JPEG with a place":               {withSegment(asJPEG, append(head, placed...)), true},
		"one in the other order":            {withSegment(asJPEG, append(head, tiff(big, "MM", gpsInfo)...)), true},
		"one without, in the other order":   {withSegment(asJPEG, append(head, tiff(big, "MM", 0x0110)...)), false},
		"one behind another segment":        {withSegment(withSegment(asJPEG, append(head, placed...)), []byte("other")), true},
		"a JPEG with a place in XMP":        {withSegment(asJPEG, xmp), true},
		"a PNG with a place":                {withChunk(asPNG, "eXIf", placed), true},
		"a PNG with Exif":                   {withChunk(asPNG, "eXIf", unplaced), false},
		"a PNG with a place in XMP":         {withChunk(asPNG, "iTXt", xmp), true},
		"a WebP with a place":               {webp("EXIF", placed), true},
		"a WebP with a place, as some do":   {webp("EXIF", append(head, placed...)), true},
		"a WebP with Exif":                  {webp("EXIF", unplaced), false},
		"a WebP with a place in XMP":        {webp("XMP ", xmp), true},
		"the bytes of a place among pixels": {webp("ALPH", placed), false},
		"nothing":                           {nil, false},
		"another kind of file":              {placed, false},
	} {
		if got := HasLocation(c.file); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// What somebody sends may break off or lie about its lengths.
func FuzzHasLocation(f *testing.F) {
	placed := tiff(binary.LittleEndian, "II", gpsInfo)
	f.Add([]byte{0xff, 0xd8, 0xff, 0xff, 0xe1, 0, 0})
	f.Add(withSegment([]byte{0xff, 0xd8, 0xff, 0xda}, append([]byte("Exif\x00\x00"), placed...)))
	f.Add(webp("EXIF", placed))
	f.Add(append([]byte("\x89PNG\r\n\x1a\n\xff\xff\xff\xffeXIf"), placed...))
	f.Fuzz(func(t *testing.T, file []byte) {
		if HasLocation(file) && len(file) < 20 {
			t.Errorf("a place in %d bytes", len(file))
		}
	})
}
