package wording

import "testing"

func TestIsDevice(t *testing.T) {
	for file, want := range map[string]bool{
		"con": true, "CON": true, "Aux.cell.yaml": true, "nul.tar.gz": true, "prn ": true, "com1": true, "LPT9.nc": true, "COM³.nc": true, "CONOUT$": true,
		"": false, "com": false, "com10": false, "console": false, "icon": false, "rack.con": false, "lpt": false, "comx": false, "com12.nc": false,
	} {
		if got := IsDevice(file); got != want {
			t.Errorf("%q: %v, wanted %v", file, got, want)
		}
	}
}
