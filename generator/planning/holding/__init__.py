"""How long do pieces hold? Pure arithmetic on plain values: days, whether a piece failed, and nothing of whose piece it was."""
