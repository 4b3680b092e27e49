package exif

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/jpeg"
	"testing"
)

// smallWebP is a picture of 5 × 3 pixels as a reference encoder (libwebp) wrote it.
func smallWebP(t *testing.T) []byte {
	t.Helper()
	file, err := base64.StdEncoding.DecodeString("UklGRloAAABXRUJQVlA4IE4AAABwAwCdASoFAAMAAUAmJagCdGuA/gGEAfwD2/7sA/QAGBpZaAAA/v0Quwb2O//AvOGRk2v//AvOGRk2v//S4P/S4JtOo/MRxLYR+yIGAAA=")
	if err != nil {
		t.Fatal(err)
	}
	return file
}

func TestWhole(t *testing.T) {
	asJPEG, asPNG := encoded(t)
	asWebP := smallWebP(t)
	var noisy bytes.Buffer // with 0xff in its scan
	picture := image.NewGray(image.Rect(0, 0, 64, 64))
	for i := range picture.Pix {
		picture.Pix[i] = byte(i * i * 7919 >> 3)
	}
	if err := jpeg.Encode(&noisy, picture, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(noisy.Bytes(), []byte{0xff, 0}) {
		t.Fatal("no stuffed byte")
	}
	for name, file := range map[string][]byte{"jpeg": asJPEG, "png": asPNG, "webp": asWebP, "noisy jpeg": noisy.Bytes(), "jpeg with a segment": withSegment(asJPEG, []byte("Exif")), "png with a chunk": withChunk(asPNG, "tEXt", []byte("a"))} {
		if !Whole(file) {
			t.Errorf("%s is whole", name)
		}
		for cut := range file {
			if Whole(file[:cut]) {
				t.Errorf("%s is whole with %d of %d bytes", name, cut, len(file))
			}
		}
		for _, more := range []string{"\x00", "<script>alert(1)</script>", "PK\x05\x06", "\xff\xd9"} {
			if Whole(append(bytes.Clone(file), more...)) {
				t.Errorf("%s is whole with %q behind its end", name, more)
			}
		}
	}
}

// What has the first bytes of a picture and goes on as something else is none; nor is one that nobody could unpack.
func TestOtherFilesAreNoPictures(t *testing.T) {
	_, asPNG := encoded(t)
	huge := bytes.Clone(asPNG)
	binary.BigEndian.PutUint32(huge[16:], 1<<17) // its width and height, and the checksum of that chunk
	binary.BigEndian.PutUint32(huge[20:], 1<<17)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	spoilt := bytes.Clone(asPNG)
	spoilt[len(spoilt)-14] ^= 1
	for name, file := range map[string][]byte{
		"nothing": nil, "svg": []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`), "html": []byte("<!doctype html><script>"),
		"pdf": []byte("%PDF-1.7\n"), "gif": []byte("GIF89a"), "jpeg that is html": []byte("\xff\xd8\xff\xe0<script>alert(1)</script>\xff\xd9"),
		"png that is html": []byte("\x89PNG\r\n\x1a\n<script>"), "webp that is html": []byte("RIFF\x10\x00\x00\x00WEBP<script>1"), "huge png": huge, "spoilt png": spoilt,
	} {
		if Whole(file) {
			t.Errorf("%s is no picture", name)
		}
	}
}

func FuzzWhole(f *testing.F) {
	f.Add([]byte("\xff\xd8\xff\xda\x00\x02\xff\xd9"))
	f.Add([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x00IEND\xaeB`\x82"))
	f.Add([]byte("RIFF\x04\x00\x00\x00WEBP"))
	f.Fuzz(func(_ *testing.T, file []byte) { Whole(file) })
}
