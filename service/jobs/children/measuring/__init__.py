"""One file measured in children: side by side on idle cores, put together, judged; what is lost takes nothing else along."""
