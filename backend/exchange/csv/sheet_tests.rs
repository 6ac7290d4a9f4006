//! What a sheet reads, and what it refuses with which sentence.

use super::Sheet;

/// Rows as lines and cells.
fn rows(bytes: &[u8]) -> Vec<(u64, Vec<String>)> {
    let Ok(sheet) = Sheet::open("f.csv", bytes) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    let problems = sheet.each(|row| {
        let cells = (0..sheet.header().len()).map(|index| row.cell(index).to_owned());
        found.push((row.at.line, cells.collect()));
    });
    assert_eq!(problems, []);
    found
}

fn refusal(bytes: &[u8]) -> (u64, String) {
    match Sheet::open("f.csv", bytes) {
        Err(problem) => (problem.line, problem.reason),
        Ok(sheet) => (0, format!("{:?}", sheet.header())),
    }
}

#[test]
fn byte_order_mark_line_ends_and_capitals_of_names_do_not_matter() {
    let expected = [(2, vec!["1".to_owned(), "x".to_owned()])];
    for text in ["a,b\n1,x\n", "\u{feff}a,b\r\n1,x\r\n", " A ,B\r1,x", "a,b\n1,x"] {
        assert_eq!(rows(text.as_bytes()), expected, "{text:?}");
    }
}

#[test]
fn lines_are_counted_through_empty_lines_and_cells_with_line_breaks() {
    let text = "a,b\r\n\r\n1,\"x\r\ny\"\r\n,\r\n\n2,z\r\n";
    let lines: Vec<_> = rows(text.as_bytes())
        .into_iter()
        .map(|(line, cells)| (line, cells[0].clone()))
        .collect();
    assert_eq!(lines, [(3, "1".to_owned()), (7, "2".to_owned())]);
}

#[test]
fn rows_can_be_read_again_in_any_order() {
    let Ok(sheet) = Sheet::open("f.csv", b"a\n1\n\"2\n2\"\n3\n") else {
        panic!("it opens");
    };
    let mut places = Vec::new();
    assert_eq!(sheet.each(|row| places.push(row.at)), []);
    places.reverse();
    let mut seen = Vec::new();
    sheet.again(&places, |row| seen.push((row.at.line, row.cell(0).to_owned())));
    let expected = [(5, "3"), (3, "2\n2"), (2, "1")];
    assert_eq!(seen, expected.map(|(line, cell)| (line, cell.to_owned())));
}

#[test]
fn a_row_with_a_cell_too_many_or_too_few_is_named_by_its_line() {
    let Ok(sheet) = Sheet::open("f.csv", b"a,b\n1,2\n3,4,5\n6\n") else {
        panic!("it opens");
    };
    let mut read = 0;
    let problems = sheet.each(|_| read += 1);
    assert_eq!(read, 1);
    let lines: Vec<_> = problems.iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [3, 4]);
    assert!(
        problems[0]
            .reason
            .contains("3 cells; the first line names 2 columns")
    );
}

#[test]
fn another_encoding_is_refused_with_its_line() {
    let (line, reason) = refusal(b"a,b\n1,Caf\xe9\n");
    assert_eq!(line, 2);
    assert!(reason.contains("E9") && reason.contains("Windows-1252"));
    assert!(refusal(b"\xff\xfea\0").1.contains("UTF-16"));
    assert!(refusal(b"a\n\0\n").1.contains("zero byte"));
}

#[test]
fn another_delimiter_is_refused_by_its_name() {
    assert!(refusal(b"a;b\n1;2\n").1.contains("semicolons"));
    assert!(refusal(b"a\tb\n1\t2\n").1.contains("tabs"));
}

#[test]
fn a_quotation_mark_that_is_never_closed_is_refused_where_it_opens() {
    let (line, reason) = refusal(b"a,b\n1,\"x\n2,y\n");
    assert_eq!(line, 2);
    assert!(reason.contains("never closed"));
    assert_eq!(rows(b"a,b\n1,\"5/16\"\" pipe\"\n").len(), 1);
    assert_eq!(rows(b"a,b\n1,5/16\" pipe\n").len(), 1);
}

#[test]
fn an_empty_file_is_refused() {
    assert!(refusal(b"").1.contains("empty"));
    assert!(refusal(b"\xef\xbb\xbf\r\n").1.contains("empty"));
}
