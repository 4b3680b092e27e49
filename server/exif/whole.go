package exif

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	webpimage "golang.org/x/image/webp" // the tests have a webp of their own
)

// mostPixels is beyond what phones take: who unpacks more than that runs out of memory.
const mostPixels = 200_000_000

// Whole says whether a file is a JPEG, PNG or WebP from its first byte to its last: of a size that can be shown, not broken off,
// and with nothing behind its end, where something else could hide. The pixels themselves are not looked at.
func Whole(file []byte) bool {
	decode, ends := image.DecodeConfig, func([]byte) bool { return false }
	switch {
	case bytes.HasPrefix(file, []byte{0xff, 0xd8}):
		decode, ends = unnamed(jpeg.DecodeConfig), jpegEnds
	case bytes.HasPrefix(file, []byte("\x89PNG\r\n\x1a\n")):
		decode, ends = unnamed(png.DecodeConfig), pngEnds
	case bytes.HasPrefix(file, []byte("RIFF")):
		decode, ends = unnamed(webpimage.DecodeConfig), webpEnds
	}
	shape, _, err := decode(bytes.NewReader(file))
	return err == nil && shape.Width > 0 && shape.Height > 0 && int64(shape.Width)*int64(shape.Height) <= mostPixels && ends(file)
}

func unnamed(decode func(io.Reader) (image.Config, error)) func(io.Reader) (image.Config, string, error) {
	return func(r io.Reader) (image.Config, string, error) {
		config, err := decode(r)
		return config, "", err
	}
}

// jpegEnds walks through segments and scans (ITU-T T.81, B.1.1) to the end of the image, which must be that of the file. In a
// scan 0xff stands before 0x00 or a restart marker only.
func jpegEnds(file []byte) bool {
	const restart, begin, end, scan = 0xd0, 0xd8, 0xd9, 0xda
	scans := 0
	for at := 2; at+1 < len(file); {
		sign := file[at+1]
		switch {
		case file[at] != 0xff && scans == 0:
			return false
		case file[at] != 0xff, sign == 0xff, scans > 0 && (sign == 0 || sign >= restart && sign < begin):
			at++
		case sign == end:
			return scans > 0 && at+2 == len(file)
		case at+4 > len(file):
			return false
		default:
			if sign == scan {
				scans++
			}
			at += 2 + max(2, int(binary.BigEndian.Uint16(file[at+2:])))
		}
	}
	return false
}

// pngEnds walks through chunks that bear their checksums to the one that is the last, and the file's end.
func pngEnds(file []byte) bool {
	rest := file[8:]
	for len(rest) >= 12 {
		size := uint64(binary.BigEndian.Uint32(rest))
		if size > uint64(len(rest)-12) {
			return false
		}
		if crc32.ChecksumIEEE(rest[4:8+size]) != binary.BigEndian.Uint32(rest[8+size:]) {
			return false
		}
		if string(rest[4:8]) == "IEND" {
			return len(rest) == 12
		}
		rest = rest[12+size:]
	}
	return false
}

// webpEnds holds the length that stands in the file's head (RFC 9649, 2.4) to the file's.
func webpEnds(file []byte) bool {
	return len(file) >= 12 && uint64(binary.LittleEndian.Uint32(file[4:]))+8 == uint64(len(file))
}
