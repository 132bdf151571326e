//! Files that are no DXF are named for what they are, with what to do.

use boreband::dxf::read;

use super::damage::binary;

#[test]
fn foreign_files_are_refused_by_name() {
    let utf16: Vec<u8> = "  0\nSECTION\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
    let mut damaged = binary("  0\nSECTION\n");
    damaged[18] = b'\n';
    let cases: Vec<(Vec<u8>, &str)> = vec![
        (Vec::new(), "empty"),
        (b"AC1027\0\0\0\0\0\0garbage".to_vec(), "DWG file: save it as DXF"),
        (b"%PDF-1.4\n%\xe2\xe3".to_vec(), "PDF"),
        (b"PK\x03\x04rest".to_vec(), "zip"),
        (utf16, "UTF-16"),
        (damaged, "damaged signature"),
        (vec![0; 100_000], "zero bytes"),
        (b"Dear reader,\nthis is a letter.\n".to_vec(), "no DXF"),
        (vec![0x55; 4096], "no DXF"),
        (b"EXTENTS,1\n0.0,8.0,0.0,8.0\n".to_vec(), "release 1"),
    ];
    for (bytes, word) in cases {
        let problem = read(&bytes).expect_err(word);
        assert!(problem.message.contains(word), "{}", problem.message);
        assert!(problem.loss);
    }
}
