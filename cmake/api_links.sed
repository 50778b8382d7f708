# Links to headings of the same page become their words.
s/\]\(#[a-z_0-9-]+\)/]/g
