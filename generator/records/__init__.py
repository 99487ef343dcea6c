"""What a depot wrote down: frozen, typed, strict records that know no disk."""
