//! Copies of open scores with the proposed breaks, read again.

use rastrum::casting_off::{self, House};
use rastrum::check::{Options, Unwatched, check};
use rastrum::limits::Limits;
use rastrum::metrics::Metrics;
use rastrum::read::{Input, read};
use rastrum::write_breaks::{Begins, Packing, begins, write_breaks};

use crate::open_scores::{data, scores};

#[test]
fn a_copy_read_again_has_the_same_music_on_the_proposed_pages() {
    let Some(folder) = data() else { return };
    let (mut files, mut pages) = (0, 0);
    for path in scores(&folder) {
        let name = path.display();
        let bytes = std::fs::read(&path).unwrap();
        let input = [Input { name: "one", bytes: &bytes }];
        let checked = check(&input, &Options::default(), &mut Unwatched).unwrap();
        let Some(proposal) = checked.proposal else { continue };
        let limits = Limits::default();
        let copies = write_breaks(&input, &checked.score, &proposal.layout, Packing::Compressed, &limits).unwrap();
        let copy = read(&[Input { name: "one", bytes: &copies[0] }], &limits).unwrap();
        assert_eq!(copy.score, checked.score, "{name}");
        let again = casting_off::pages(&copy.score, &Metrics::of(&copy.score), &copy.record, &House::default());
        let (wanted, found) = (begins(&checked.score, &proposal.layout), begins(&copy.score, &again));
        let wrong: Vec<(usize, Begins, Begins)> =
            (0..wanted.len()).filter(|at| wanted[*at] != found[*at]).map(|at| (at, wanted[at], found[at])).collect();
        assert!(wrong.is_empty(), "{name}: (bar, wanted, found) {wrong:?}");
        files += 1;
        pages += proposal.layout.pages.len();
    }
    assert!(files >= 20 && pages > 200, "only {files} files with {pages} proposed pages");
}
