# For the API pages only: what a header says behind a label begins a line of its own.
/^ *\/\/\/ /s/(^ *\/\/\/ |\. )(Units|Returns|Throws|Thread safety|Example): /\1<br>**\2:** /
