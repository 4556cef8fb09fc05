//! Signed files and locked ones.

use std::collections::BTreeMap;
use std::sync::Arc;

use lopdf::encryption::crypt_filters::{Aes128CryptFilter, CryptFilter};
use lopdf::{Document, EncryptionState, EncryptionVersion, Object, Permissions, dictionary};

use super::sample::{PLACE, annotated, annotations, catalog_id, contents, decoded, load, note, numbers, plain, saved};
use crate::annotate::{AnnotateError, Loss, Sheets, annotate, strip};
use crate::limits::Limits;

/// A signature, and what its certificate allows.
fn signed(allowed: Option<Option<i64>>) -> Vec<u8> {
    let mut document = plain(1);
    let mut signature = dictionary! {
        "Type" => "Sig", "Filter" => "Adobe.PPKLite", "ByteRange" => numbers(&[0, 10, 20, 30]),
        "Contents" => Object::string_literal("signed"),
    };
    if let Some(allowed) = allowed {
        let mut parameters = dictionary! { "Type" => "TransformParams", "V" => "1.2" };
        allowed.into_iter().for_each(|allowed| parameters.set("P", allowed));
        let reference = dictionary! { "TransformMethod" => "DocMDP", "TransformParams" => parameters };
        signature.set("Reference", vec![Object::from(reference)]);
    }
    let signature = document.add_object(signature);
    let field = document.add_object(dictionary! { "FT" => "Sig", "V" => signature });
    let catalog = document.get_dictionary_mut(catalog_id(&document)).unwrap();
    catalog.set("AcroForm", dictionary! { "Fields" => vec![Object::from(field)], "SigFlags" => 3 });
    if allowed.is_some() {
        catalog.set("Perms", dictionary! { "DocMDP" => signature });
    }
    saved(document)
}

#[test]
fn a_signature_holds_on_where_the_file_is_only_added_to() {
    let file = signed(None);
    let done = annotated(&file, &[note(0, PLACE)]);
    assert!(done.is_update && done.bytes.starts_with(&file));
    assert_eq!(done.lost, []);
    let sheets = saved(plain(1));
    let sheets = Sheets { pdf: &sheets, count: 1 };
    let done = annotate(&file, &[], Some(sheets), &Limits::default()).unwrap();
    assert_eq!(done.lost, [Loss::Signature]);
}

#[test]
fn a_signature_is_lost_where_the_file_has_to_be_written_anew() {
    let file = signed(None);
    let damaged = String::from_utf8_lossy(&file).replace("startxref\n", "startxref\n9");
    // The table begins nowhere near.
    let done = annotated(damaged.as_bytes(), &[note(0, PLACE)]);
    assert!(!done.is_update && done.lost.contains(&Loss::Signature), "{:?}", done.lost);
}

#[test]
fn certificates_say_what_they_allow() {
    let write = |allowed: i64, sheets: bool| {
        let file = signed(Some(Some(allowed)));
        let pages = saved(plain(1));
        let sheets = sheets.then_some(Sheets { pdf: &pages, count: 1 });
        annotate(&file, &[note(0, PLACE)], sheets, &Limits::default()).map(|done| done.lost)
    };
    assert_eq!(write(1, false), Err(AnnotateError::Certified));
    assert_eq!(write(2, false), Err(AnnotateError::Certified));
    assert_eq!(write(3, false), Ok(vec![]));
    assert_eq!(write(3, true), Err(AnnotateError::CertifiedPages));
    let untold = signed(Some(None));
    assert_eq!(annotate(&untold, &[], None, &Limits::default()), Err(AnnotateError::Certified));
    // Nothing is taken out where nothing is.
    assert!(strip(&untold, &Limits::default()).unwrap().bytes == untold);
}

fn encrypted(user: &str, newer: bool) -> Vec<u8> {
    let mut document = plain(2);
    let filter: Arc<dyn CryptFilter> = Arc::new(Aes128CryptFilter);
    let clear = document.clone();
    let permissions = Permissions::all();
    let version = if newer {
        EncryptionVersion::V4 {
            document: &clear,
            encrypt_metadata: true,
            crypt_filters: BTreeMap::from([(b"StdCF".to_vec(), filter)]),
            stream_filter: b"StdCF".to_vec(),
            string_filter: b"StdCF".to_vec(),
            owner_password: "owner",
            user_password: user,
            permissions,
        }
    } else {
        EncryptionVersion::V2 {
            document: &clear,
            owner_password: "owner",
            user_password: user,
            key_length: 128,
            permissions,
        }
    };
    document.encrypt(&EncryptionState::try_from(version).unwrap()).unwrap();
    saved(document)
}

#[test]
fn an_owners_lock_is_lost_and_told() {
    for newer in [false, true] {
        let file = encrypted("", newer);
        let done = annotated(&file, &[note(0, PLACE)]);
        assert_eq!(done.lost, [Loss::Encryption]);
        assert!(done == annotated(&file, &[note(0, PLACE)]));
        let (clear, after) = (plain(2), load(&done.bytes));
        assert!(!after.was_encrypted() && !after.trailer.has(b"Encrypt"));
        assert_eq!(annotations(&after, 0, true).len(), 1);
        assert_eq!(contents(&clear), contents(&after));
        assert_eq!(decoded(&clear), decoded(&after));
        let title = |document: &Document| {
            let info = document.trailer.get(b"Info").unwrap().as_reference().unwrap();
            document.get_dictionary(info).unwrap().get(b"Title").unwrap().as_str().unwrap().to_vec()
        };
        assert_eq!(title(&after), title(&clear));
    }
}

#[test]
fn a_users_lock_keeps_everyone_out() {
    for newer in [false, true] {
        let error = annotate(&encrypted("secret", newer), &[], None, &Limits::default()).unwrap_err();
        assert_eq!(error, AnnotateError::Password);
        assert!(error.hint().contains("without"));
    }
}
