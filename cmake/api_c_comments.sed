# For the API pages only: the comments of the C headers as Doxygen reads them. The first is about
# the file; one that begins a line is about what follows, one behind code about that code. A block
# whose first line is empty heads a section and is left alone.
1s|^/\*|/** @file\n *|
2,$s|^/\* |/** |
/^[^/].*[^ ] +\/\* /s|/\* |/**< |
