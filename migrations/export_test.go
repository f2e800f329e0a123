package migrations

// ApplyFiles lets a test stop at an older schema.
var ApplyFiles = apply
