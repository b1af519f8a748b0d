package plan

import (
	"slices"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// Boxes is a stack: layers of the part's boxes over the footprint of a pallet.
type Boxes struct {
	Place     diag.Place
	Layers    Whole
	Pattern   Text     // one of BoxPatterns; unset where the boxes are written out
	Out       []BoxOut // the boxes of a layer that are written out
	OutPlace  diag.Place
	Gap       Real // mm
	Alternate Text // one of Alternates
	Side      Text // one of Sides; unset for where the machine stands
	// Unread says that something here was refused, so that it is unknown how the boxes lie.
	Unread bool
}

// BoxOut is one box of a layer that is written out.
type BoxOut struct {
	Place  diag.Place
	At     Pair  // mm, its middle from the footprint's corner
	Turned Whole // 0 or 90, degrees
}

// The words of "pattern", "alternate" and "side"; the first ones hold where nothing is written.
var (
	BoxPatterns = []string{"best", "columns", "brick", "pinwheel"}
	Alternates  = []string{"none", "turn", "mirror"}
	Sides       = []string{"-x", "+x", "-y", "+y"}
)

// key is the grid's key "boxes".
func (b *Boxes) key() decode.Key {
	object := decode.Object{What: "boxes", Check: b.check, Rules: []schema.Rule{gapOfPatterns}, Keys: []decode.Key{
		decode.May("layers", "How many layers.", decode.Whole(&b.Layers, 1, mostSlots)).Default(1),
		decode.May("pattern", "How the boxes of a layer lie: `best`, the most that five blocks hold; `columns`, all turned alike in rows and columns; "+
			"`brick`, in rows as of a brick wall; `pinwheel`, four blocks around a hole; or a list of all boxes of a layer.", b.pattern()).Default(BoxPatterns[0]),
		decode.May("gap", "Room between boxes side by side, in mm.", decode.Quantity(&b.Gap, unit.Length, decode.NotNegative)).Default(0),
		decode.May("alternate", "How layers 2, 4, 6 and so on differ: not at all; turned by 180° about the middle of the footprint; mirrored in it, left for right, or front for back where that makes no difference.",
			decode.OneOf(&b.Alternate, Alternates...)).Default(Alternates[0]),
		decode.May("side", "The side of the footprint over which the tool comes: the boxes at the opposite side are the first to be put down, and the last to be taken.",
			decode.OneOf(&b.Side, Sides...)).Else("the side on which the machine's base is"),
	}}
	return decode.May("boxes", "A stack of the part's boxes, in layers over the footprint that `pallet` names.", decode.At(&b.Place, object))
}

// pattern reads a word, or boxes.
func (b *Boxes) pattern() decode.Form {
	list := decode.List{What: "boxes", Each: func() decode.Form {
		b.Out = append(b.Out, BoxOut{})
		return b.Out[len(b.Out)-1].form()
	}}
	return decode.OrList(decode.OneOf(&b.Pattern, BoxPatterns...), decode.At(&b.OutPlace, decode.Under(list, atLeast(1))))
}

func (b *BoxOut) form() decode.Form {
	turned := &b.Turned
	straight := decode.Own(func() schema.Schema { return schema.Schema{{Name: "enum", Value: []int{0, 90}}} }, func(r *decode.Reader, n decode.Node) {
		if decode.Whole(turned, -360, 360).Read(r, n); turned.IsSet() && turned.V != 0 && turned.V != 90 {
			r.List.Errorf("out-of-range", turned.Place, "found %d, wanted 0 or 90", turned.V).
				WithHint("boxes lie square to the footprint: 0 with their X along its X, 90 with their X along its Y")
			*turned = Whole{}
		}
	})
	check := func(_ *decode.Reader, written decode.Written) {
		if written.Has("turned") && !turned.IsSet() {
			b.At = Pair{}
		}
	}
	return decode.At(&b.Place, decode.Object{What: "a box", Check: check, Keys: []decode.Key{
		decode.Must("at", "The middle of the box: x, y from the corner of the footprint, in mm.", decode.Pair(&b.At, "x", "y", decode.Any)),
		decode.May("turned", "How far the box and the tool are turned about the frame's +Z: 0 or 90, in degrees.", straight).Default(0),
	}})
}

func (b *Boxes) check(r *decode.Reader, written decode.Written) {
	listed := !b.OutPlace.IsZero()
	if listed && len(b.Out) == 0 {
		r.List.Errorf("wrong-length", b.OutPlace, "the list of boxes is empty, wanted one box or more").
			WithHint("write the boxes of a layer, such as {at: [200, 150]}, or one of %s", strings.Join(BoxPatterns, ", "))
	}
	if listed && written.Has("gap") {
		r.List.Errorf("idle-key", written["gap"], "\"gap\" says nothing where every box is written out").
			WithHint("leave it out: each box stands where its \"at\" says")
	}
	b.Unread = written == nil || listed && (len(b.Out) == 0 || slices.ContainsFunc(b.Out, func(o BoxOut) bool { return !o.At.IsSet() })) ||
		written.Has("pattern") && !listed && !b.Pattern.IsSet() ||
		written.Has("layers") && !b.Layers.IsSet() || written.Has("gap") && !b.Gap.IsSet() ||
		written.Has("alternate") && !b.Alternate.IsSet() || written.Has("side") && !b.Side.IsSet()
}

// gapOfPatterns leaves "gap" no room beside boxes that are written out.
func gapOfPatterns(boxes schema.Schema) schema.Schema {
	listed := schema.Required("pattern").With("properties", schema.Schema{}.With("pattern", schema.Of("array")))
	return boxes.When(listed, schema.Schema{}.With("properties", refused([]string{"gap"})))
}
