package draw

// TextWidth is the width that labels are placed by.
var TextWidth = width
