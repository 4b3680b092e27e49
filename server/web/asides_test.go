package web

import (
	"encoding/base64"
	"strings"
	"testing"

	"jointwalk/sync/exchange"
)

func TestAsidesBelongToTheirOwnerAndToSupervisors(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-tom", siteB)+"garbage\n")
	own := into[[]SetAside](t, b.call("GET", "/api/asides", "tom", ""), 200)
	if len(own) != 1 || !own[0].Mine || own[0].May || own[0].Code != "wrong-site" || own[0].By != "p-tom" || own[0].At.IsZero() || own[0].Line == "" {
		t.Fatalf("%+v", own)
	}
	if all := into[[]SetAside](t, b.call("GET", "/api/asides", "sue", ""), 200); len(all) != 2 || !all[0].May || all[1].May {
		t.Errorf("%+v", all)
	}
	if none := into[[]SetAside](t, b.call("GET", "/api/asides", "eva", ""), 200); len(none) != 0 {
		t.Errorf("%+v", none)
	}
	path := "/api/asides/" + own[0].Hash
	wants(t, b.call("POST", path+"/accept", "tom", ""), 403, "not-allowed")
	wants(t, b.call("POST", path+"/settle", "eva", `{"how":"dismissed"}`), 404, "unknown-aside")
	wants(t, b.call("POST", path+"/settle", "tom", `{"how":"accepted"}`), 422, "bad-input")
	if w := b.call("POST", path+"/accept", "sue", ""); w.Code != 204 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if len(b.events.pairs) != 1 || b.events.settled[0].By != "p-sue" {
		t.Errorf("%+v", b.events.settled)
	}
	wants(t, b.call("POST", path+"/accept", "sue", ""), 404, "unknown-aside")
}

func TestSettledAsidesAreGone(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-tom", siteB))
	hash := b.events.asides[0].Hash
	if w := b.call("POST", "/api/asides/"+hash+"/settle", "tom", `{"how":"amended"}`); w.Code != 204 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if left := into[[]SetAside](t, b.call("GET", "/api/asides", "tom", ""), 200); len(left) != 0 || len(b.events.pairs) != 0 {
		t.Errorf("%+v", left)
	}
}

func TestUpkeep(t *testing.T) {
	b := newBench(t)
	wants(t, b.call("GET", "/api/upkeep", "tom", ""), 403, "not-allowed")
	u := into[Upkeep](t, b.call("GET", "/api/upkeep", "sue", ""), 200)
	if u.Copied != nil || len(u.Devices) != 1 || len(u.Lost) != 1 || u.Lost[0].Told != 9 {
		t.Errorf("%+v", u)
	}
}

func TestAFileOfAPhoneIsHandedInOnce(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	picture := `{"picture":"` + hashed(png) + `","size":` + "24" + `,"data":"` + base64.StdEncoding.EncodeToString([]byte(png)) + `"}`
	file := `{"jointwalk":"unsent","v":1}` + "\n" + p.register("p-sue", siteA) + p.register("p-tom", siteB) + picture + "\n"
	told := into[HandedIn](t, b.call("POST", "/api/import", "sue", file), 200)
	if told != (HandedIn{Applied: 1, Aside: 1, Pictures: 1}) {
		t.Errorf("%+v", told)
	}
	if part := into[exchange.Part](t, b.call("GET", "/api/pictures/"+hashed(png)+"/part", "sue", ""), 200); !part.Whole {
		t.Error("the picture is not there")
	}
	many := `{"jointwalk":"unsent","v":1}` + "\n" + strings.Repeat(p.register("p-sue", siteA), exchange.MaxBatch+1)
	if told := into[HandedIn](t, b.call("POST", "/api/import", "sue", many), 200); told.Applied != exchange.MaxBatch+1 {
		t.Errorf("%+v", told)
	}
	for _, bad := range []string{"", `{"a":1}`, "<html>", `{"jointwalk":"unsent","v":1}` + "\n" + `{"picture":"x","data":"!"}`} {
		wants(t, b.call("POST", "/api/import", "sue", bad), 422, "not-an-export")
	}
}

func TestTheSchemaIsForEverybody(t *testing.T) {
	b := newBench(t)
	for _, name := range []string{"event", "receipt"} {
		s := into[map[string]any](t, b.call("GET", "/schema/"+name+".json", "", ""), 200)
		if s["$schema"] != "https://json-schema.org/draft/2020-12/schema" {
			t.Errorf("%s: %v", name, s["$schema"])
		}
	}
	for _, name := range []string{"none.json", "..%2fdoc.go", "released"} {
		wants(t, b.call("GET", "/schema/"+name, "", ""), 404, "not-found")
	}
}
