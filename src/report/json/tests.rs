use super::written::text;

#[test]
fn a_number_that_is_not_finite_is_never_written() {
    for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(text(&number).unwrap(), "null\n");
    }
}
