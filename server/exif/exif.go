// Package exif finds out whether a file is a whole picture, and whether that says where it was taken. For the latter it reads no more than that of what cameras write into
// JPEG, PNG and WebP files: Exif (CIPA DC-008), whose first directory points to one about the place by the tag GPSInfo, and
// XMP (ISO 16684-1), which names the same fields in text. One that is compressed within a PNG is not looked into.
package exif

import (
	"bytes"
	"encoding/binary"
	"math"
)

// gpsInfo is the tag whose value says where the directory about the place stands (CIPA DC-008, 4.6.3).
const gpsInfo = 0x8825

// HasLocation says whether a JPEG, PNG or WebP file says where it was taken. Of a file that breaks off, or is another kind,
// what can be read counts.
func HasLocation(file []byte) bool {
	for _, part := range parts(file) {
		if namesPlace(part) {
			return true
		}
	}
	return false
}

// namesPlace holds for Exif with a directory about the place, and for XMP with its fields.
func namesPlace(part []byte) bool {
	tiff := bytes.TrimPrefix(part, []byte("Exif\x00\x00"))
	return pointsToPlace(tiff) || bytes.Contains(part, []byte("GPSLatitude")) || bytes.Contains(part, []byte("GPSLongitude"))
}

// pointsToPlace looks through the first directory of a TIFF structure: 2 bytes of order, 42, the directory's offset; then a count
// and entries of 12 bytes that begin with their tag.
func pointsToPlace(tiff []byte) bool {
	var order binary.ByteOrder = binary.LittleEndian
	switch {
	case bytes.HasPrefix(tiff, []byte("MM\x00\x2a")):
		order = binary.BigEndian
	case !bytes.HasPrefix(tiff, []byte("II\x2a\x00")):
		return false
	}
	at := func(from, n uint64) []byte {
		if from+n > uint64(len(tiff)) {
			return make([]byte, n)
		}
		return tiff[from : from+n]
	}
	first := uint64(order.Uint32(at(4, 4)))
	for n := range uint64(order.Uint16(at(first, 2))) {
		if order.Uint16(at(first+2+12*n, 2)) == gpsInfo {
			return true
		}
	}
	return false
}

// parts are those of a file that may hold Exif or XMP.
func parts(file []byte) [][]byte {
	switch {
	case bytes.HasPrefix(file, []byte{0xff, 0xd8}):
		return segments(file[2:])
	case bytes.HasPrefix(file, []byte("\x89PNG\r\n\x1a\n")):
		return chunks(file[8:], binary.BigEndian, 4)
	case len(file) >= 12 && string(file[:4]) == "RIFF" && string(file[8:12]) == "WEBP":
		return chunks(file[12:], binary.LittleEndian, 0)
	}
	return nil
}

// segments are the APP1 segments of a JPEG (ITU-T T.81, B.1.1.4) up to its picture: a marker, the length of itself and what
// follows.
func segments(file []byte) (found [][]byte) {
	const app1, scan = 0xe1, 0xda
	for len(file) >= 4 && file[0] == 0xff && file[1] != scan {
		if file[1] == 0xff { // a filling byte
			file = file[1:]
			continue
		}
		size := max(int(binary.BigEndian.Uint16(file[2:])), 2)
		end := min(2+size, len(file))
		if file[1] == app1 {
			found = append(found, file[4:end])
		}
		file = file[end:]
	}
	return found
}

// chunks are the bodies of those of a PNG or WebP file that are no pixels. A PNG's length stands before its name, and
// extra bytes behind its body; a WebP's stands behind its name, and bodies fill up to even lengths.
func chunks(file []byte, order binary.ByteOrder, extra int) (found [][]byte) {
	for len(file) >= 8 {
		name, length := string(file[4:8]), file[:4]
		if extra == 0 {
			name, length = string(file[:4]), file[4:8]
		}
		size := int(min(uint64(order.Uint32(length)), math.MaxInt32))
		body := file[8:min(8+size, len(file))]
		if name == "eXIf" || name == "iTXt" || name == "EXIF" || name == "XMP " {
			found = append(found, body)
		}
		skip := 8 + size + extra
		if extra == 0 {
			skip += size % 2
		}
		file = file[min(skip, len(file)):]
	}
	return found
}
