package fact

import (
	"encoding/json"
	"strings"
	"testing"
)

// What is hardly known has its probability in the JSON, and no tenths.
func TestHardlyKnownInJSON(t *testing.T) {
	wide, narrow := Chance{P: 0.5, Lo: 0.2, Hi: 0.8}, Chance{P: 0.5, Lo: 0.3, Hi: 0.7}
	for name, c := range map[string]struct {
		value  any
		hardly bool
	}{
		"a share":             {NewShare(narrow, 9, 20), false},
		"a wide share":        {NewShare(wide, 9, 20), true},
		"a share of 2 games":  {NewShare(narrow, 1, 2), true},
		"how often":           {NewOften(narrow, 9, 20), false},
		"how often, wide":     {NewOften(wide, 9, 20), true},
		"without answer":      {Unanswered{Lo: 0.3, Hi: 0.7}, false},
		"no answer, but wide": {Unanswered{Lo: 0.2, Hi: 0.8, Hardly: true}, true},
	} {
		text, err := json.Marshal(c.value)
		if err != nil {
			t.Fatal(err)
		}
		var own map[string]any
		if err := json.Unmarshal(text, &own); err != nil {
			t.Fatal(err)
		}
		delete(own, "share")
		tens := false
		for key := range own {
			tens = tens || strings.HasPrefix(key, "ten")
		}
		if said := own["hardly_known"] == true; said != c.hardly || tens == c.hardly || own["lo"] == nil {
			t.Errorf("%s: %s", name, text)
		}
	}
}
