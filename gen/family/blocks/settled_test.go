package blocks

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"
)

// TestSettled: what was settled with one view prints what the block prints of another one that differs in a move's own fields
// alone, and looks at no other field.
func TestSettled(t *testing.T) {
	random, settled := rand.New(rand.NewPCG(6, 7)), 0
	views := 30
	if testing.Short() {
		views = 3
	}
	for _, f := range everyFamily(t) {
		for _, block := range everyBlock() {
			if f.Has(block.Name) && holdsSettled(t, f, block.Name, block.viewType(), views, random) {
				settled++
			}
		}
	}
	if settled < 30 {
		t.Errorf("only %d blocks settle", settled)
	}
}

// holdsSettled reports whether the block settles.
func holdsSettled(t *testing.T, f *Blocks, block string, typ reflect.Type, views int, random *rand.Rand) (settles bool) {
	t.Helper()
	short, long, at := f.NewPrinter(), f.NewPrinter(), reflect.New(typ)
	for range views {
		like := reflect.ValueOf(randomView(typ, random))
		at.Elem().Set(like)
		if _, err := short.Print(block, at.Interface()); err != nil {
			continue
		}
		s := short.Settle(block)
		if s == nil {
			continue
		}
		settles = true
		other := reflect.New(typ).Elem()
		other.Set(like)
		at.Elem().Set(reflect.ValueOf(randomView(typ, random)))
		setOwn(other, at.Elem())
		long.left = short.left
		before := short.left
		text, ok := short.PrintSettled(s)
		got := fmt.Sprintf("%q %d", text, short.left)
		if err := long.run(long.blocks[block], other.Interface()); err != nil {
			if ok || short.left != before {
				t.Fatalf("%s: %q settled on %+v prints %s of %+v, want %v", f.Label, block, like, got, other, err)
			}
			continue
		}
		if want := fmt.Sprintf("%q %d", long.text, long.left); ok && got != want || !ok && short.left != before {
			t.Fatalf("%s: %q settled on %+v prints %v %s of %+v, want %s", f.Label, block, like, ok, got, other, want)
		}
		if always, same := s.Constant(); same {
			short.left = before
			spent := short.Spend(s)
			if got := fmt.Sprintf("%q %d", always, short.left); spent != ok || ok && got != fmt.Sprintf("%q %d", long.text, long.left) {
				t.Fatalf("%s: %q settled on %+v is always %v %s", f.Label, block, like, spent, got)
			}
		}
	}
	return settles
}

// setOwn sets the fields that are a move's own to those of another view.
func setOwn(to, from reflect.Value) {
	for i := range to.NumField() {
		switch f := to.Type().Field(i); {
		case f.Tag.Get("own") != "":
			to.Field(i).Set(from.Field(i))
		case f.Anonymous:
			setOwn(to.Field(i), from.Field(i))
		}
	}
}
