"""The file as a whole: what it claims, holds and does beside its pages."""
