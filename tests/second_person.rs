//! Who may sign as the second person. That somebody else than who did the work looks at it before it is closed is common practice, no
//! source.

mod support;

use support::Logbook;
use trammel::procedure::{Hold, may_not_sign};
use trammel::record::{Body, Role};

const HOLD: &str = "hold-a";

/// Riveting, where nothing is read before the first hold point, everything before it done by these, one after the other.
fn riveting(by: [&str; 4]) -> Logbook {
    let mut book = Logbook::example_without_run(0);
    book.begin("riveting", 0xC);
    for (step, who) in ["cautions", "closed-inside", "grip", "trial-pulled"].into_iter().zip(by) {
        who.clone_into(&mut book.by);
        book.confirm(step);
    }
    book
}

fn refused(book: &Logbook, name: &str) -> Option<String> {
    let run = book.fold();
    may_not_sign(&run.steps, run.place(HOLD).expect("a hold"), name)
}

fn signed(book: &Logbook, name: &str) -> Hold {
    let mut book = book.clone();
    book.sign(HOLD, name);
    book.fold().step(HOLD).expect("a hold").hold.clone().expect("a state")
}

#[test]
fn who_did_all_of_it_is_not_the_second_person() {
    let book = riveting(["A. Builder"; 4]);
    let words = refused(&book, " a. BUILDER ").expect("refused");
    assert!(words.starts_with("a. BUILDER did what comes before this.") && words.contains("second person"), "{words}");
    assert!(matches!(signed(&book, "a. builder"), Hold::Ready(_)), "a file that says so all the same opens nothing");
    assert_eq!((refused(&book, "B. Helper"), signed(&book, "B. Helper")), (None, Hold::Signed));
}

#[test]
fn where_two_did_it_each_looked_at_the_others() {
    let book = riveting(["A. Builder", "B. Helper", "A. Builder", "A. Builder"]);
    for name in ["A. Builder", "B. Helper", "C. Somebody"] {
        assert_eq!((refused(&book, name), signed(&book, name)), (None, Hold::Signed), "{name}");
    }
}

#[test]
fn a_person_is_named_once_and_their_role_follows_the_last_word() {
    let mut book = Logbook::example(0);
    let builder = book.airframe().details.builder;
    assert!(book.airframe().naming_once(&builder).is_none(), "the builder is known by the airframe's details");
    let helper = book.airframe().naming_once("  B.   Helper ").expect("new");
    assert_eq!(helper, Body::PersonNamed { name: "B. Helper".to_owned(), role: Role::Helper });
    book.put(helper);
    assert!(book.airframe().naming_once("b. helper").is_none());
    assert!(book.airframe().naming("b. helper", Role::Helper).is_err(), "the same again says nothing");
    let inspector = book.airframe().naming("b. helper", Role::Inspector).expect("another role");
    assert_eq!(inspector, Body::PersonNamed { name: "B. Helper".to_owned(), role: Role::Inspector });
    book.put(inspector);
    let everybody = book.airframe().everybody();
    assert_eq!(everybody.iter().filter(|person| person.name == "B. Helper").count(), 1);
    assert!(book.airframe().naming(" ", Role::Mentor).is_err());
}
