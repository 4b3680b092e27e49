package record

import (
	"bytes"
	"math/rand"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The worked example of the Global Release Identifier standard, which uses
// ISO/IEC 7064 MOD 37,36: A1-2425G-ABC1234002 has check character M (value
// from memory).
func TestCheckCharacterOfPublishedExample(t *testing.T) {
	if got := CheckCharacter("A12425GABC1234002"); got != 'M' {
		t.Errorf("check character %c, want M", got)
	}
}

func mint(t *testing.T, seed int64) string {
	t.Helper()
	code, err := MintTag(rand.New(rand.NewSource(seed)))
	if err != nil {
		t.Fatal(err)
	}
	return code
}

// MOD 37,36 catches every single wrong character and nearly every swap of
// neighbours; here every single substitution is tried.
func TestEverySingleSlipIsCaught(t *testing.T) {
	for seed := range int64(50) {
		code := mint(t, seed)
		for i := range code {
			for _, c := range crockford {
				slipped := code[:i] + string(c) + code[i+1:]
				_, problem := ParseTag(slipped)
				if want := slipped != code; (problem == TagDamaged) != want {
					t.Fatalf("%s from %s: problem %q", slipped, code, problem)
				}
			}
		}
	}
}

func TestParseTagTakesWhatPeopleType(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		code, _ := MintTag(rand.New(rand.NewSource(rapid.Int64().Draw(rt, "seed"))))
		typed := strings.NewReplacer("0", "o", "1", "l").Replace(code)
		for _, text := range []string{
			code, strings.ToLower(code), code[:4] + " " + code[4:8] + "-" + code[8:], typed, " " + code + " ",
			"HTTPS://PLANT.EXAMPLE:8443/T/" + code, "https://plant.example/t/" + strings.ToLower(code) + "/",
		} {
			if got, problem := ParseTag(text); got != code || problem != "" {
				rt.Fatalf("%q: code %q, problem %q, want %q", text, got, problem, code)
			}
		}
	})
}

func TestForeignTextsAreForeign(t *testing.T) {
	for _, text := range []string{"", "hello", "https://plant.example/menu", "WIFI:S:guest;;", strings.Repeat("A", 4000), "4K7Q2M9XTCU"} {
		if _, problem := ParseTag(text); problem != TagForeign {
			t.Errorf("%.20q: problem %q, want %q", text, problem, TagForeign)
		}
	}
}

func TestMintTagNeedsRandomness(t *testing.T) {
	if _, err := MintTag(bytes.NewReader(nil)); err == nil {
		t.Error("no randomness must be an error")
	}
	if mint(t, 1) == mint(t, 2) {
		t.Error("two seeds, one tag")
	}
}

func TestTwoPhonesNameOneFixture(t *testing.T) {
	const here, there = "7d444840-9dc0-11d1-b245-5ffdce74fad2", "6ba7b810-9dad-11d1-80b4-00c04fd430c8"
	if FixtureID(here, "A") != FixtureID(here, "A") || FixtureID(here, "A") == FixtureID(there, "A") || FixtureID(here, "A") == FixtureID(here, "B") {
		t.Error("the id follows from installation and tag alone")
	}
	if FixtureID("no uuid", "A") != "" {
		t.Error("an installation that is no UUID gives no id")
	}
	// RFC 9562 appendix A.4: UUIDv5 of www.example.com in the DNS namespace.
	if got := FixtureID("6ba7b810-9dad-11d1-80b4-00c04fd430c8", "www.example.com"); got != "2ed6657d-e927-568b-95e1-2665a8aea6a2" {
		t.Errorf("UUIDv5 %s", got)
	}
}
