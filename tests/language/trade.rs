//! The trade's words in the languages that are not English: whole, of the version that is asked, and nothing beside it.

use std::collections::BTreeSet;

use anglestop::domain::choice::Way;
use anglestop::domain::code::{Coded as _, Worded};
use anglestop::domain::measure::{LengthUnit, Quantity, Unit};
use anglestop::domain::register::{Occupancy, Service, UnitKind};
use anglestop::domain::result::answer::Outcome;
use anglestop::domain::result::{
    ClosedHow, DeficiencyStatus, EventKind, MissedReason, Origin as DeficiencyOrigin,
};
use anglestop::domain::trade::check::Performer;
use anglestop::domain::trade::clearance::{Decision, Dimension};
use anglestop::domain::trade::flush::Level;
use anglestop::domain::trade::leak_point::Wetness;
use anglestop::domain::trade::urgent::{Contact, Urgency};
use anglestop::domain::trade::water::Method;
use anglestop::domain::trade::{
    Answer, BaseJoint, Bound, Catalogue, Caution, Check, Escalation, FixtureKind, Group, Origin, PartKind,
    Severity, Source, Standing, TurnoverStage, Verdict, caution,
};
use anglestop::domain::visit::{NoAccessReason, VisitStatus};
use anglestop::exchange::catalogue::builtin;
use anglestop::language::{CheckWords, Language, catalogue};

fn others() -> Vec<Language> {
    Language::all()
        .filter(|language| *language != Language::ENGLISH)
        .collect()
}

/// The keys of `trade.ftl` that are wanted, with the names of what must stand beside each.
#[derive(Default)]
struct Wanted(Vec<(String, Vec<String>)>);

impl Wanted {
    fn words<T: Worded>(&mut self, beside: impl Fn(T) -> Vec<String>) {
        for value in T::ALL {
            let noun = T::NOUN.replace(' ', "-");
            let code = value.code().replace('/', "-").replace('%', "percent");
            self.0.push((format!("{noun}-{code}"), beside(*value)));
        }
    }

    fn plain<T: Worded>(&mut self) {
        self.words::<T>(|_| Vec::new());
    }

    fn check(&mut self, check: &Check) {
        let mut beside = vec!["version".to_owned(), "ask".to_owned()];
        beside.extend((1..=check.method.len()).map(|step| format!("method-{step}")));
        match check.answer {
            Answer::Verdict { .. } => beside.extend(["pass".to_owned(), "fail".to_owned()]),
            Answer::Reading { .. } => beside.push("of".to_owned()),
        }
        self.0.push((format!("check-{}", check.code), beside));
    }

    fn all(catalogue: &Catalogue) -> Self {
        let mut wanted = Self::default();
        wanted.plain::<FixtureKind>();
        wanted.plain::<PartKind>();
        wanted.plain::<Severity>();
        wanted.plain::<Group>();
        wanted.plain::<TurnoverStage>();
        wanted.plain::<Performer>();
        wanted.plain::<Verdict>();
        wanted.plain::<Bound>();
        wanted.plain::<Outcome>();
        wanted.plain::<MissedReason>();
        wanted.plain::<NoAccessReason>();
        wanted.plain::<VisitStatus>();
        wanted.plain::<DeficiencyStatus>();
        wanted.plain::<Occupancy>();
        wanted.plain::<UnitKind>();
        wanted.plain::<Wetness>();
        wanted.plain::<LengthUnit>();
        wanted.plain::<BaseJoint>();
        wanted.plain::<Origin>();
        wanted.plain::<DeficiencyOrigin>();
        wanted.plain::<ClosedHow>();
        wanted.plain::<EventKind>();
        wanted.plain::<Escalation>();
        wanted.plain::<Way>();
        wanted.plain::<Method>();
        wanted.plain::<Service>();
        wanted.plain::<Dimension>();
        wanted.plain::<Decision>();
        wanted.plain::<Level>();
        wanted.plain::<Quantity>();
        wanted.plain::<Unit>();
        wanted.plain::<Contact>();
        wanted.words::<Caution>(|_| vec!["advice".to_owned()]);
        wanted.words::<Urgency>(|urgency| {
            (1..=urgency.steps().len())
                .map(|step| format!("step-{step}"))
                .collect()
        });
        for check in &catalogue.checks {
            wanted.check(check);
        }
        for set in &catalogue.leak_points {
            for point in &set.points {
                let key = format!("leak-point-{}-{}", set.drawing.code(), point.code);
                wanted.0.push((key, Vec::new()));
            }
        }
        for key in [
            "caution-deference",
            "caution-gas_smell",
            "source-common_practice",
            "source-no_source",
        ] {
            wanted.0.push((key.to_owned(), Vec::new()));
        }
        for key in ["source-computed", "source-from_memory"] {
            wanted.0.push((key.to_owned(), Vec::new()));
        }
        wanted
    }
}

#[test]
fn every_word_of_the_trade_is_translated_and_none_beside() {
    let built_in = builtin().unwrap();
    let wanted = Wanted::all(built_in);
    let mut faults = Vec::new();
    for language in others() {
        let tag = language.tag();
        let mut known: BTreeSet<String> = catalogue::files()
            .filter(|(other, name, _)| other == tag && name == "trade.ftl")
            .flat_map(|(_, _, text)| super::messages::keys(&text))
            .collect();
        for (key, beside) in &wanted.0 {
            if !known.remove(key) {
                faults.push(format!("{tag}: {key} is missing"));
            }
            for name in beside {
                if catalogue::beside(tag, key, name).is_none() {
                    faults.push(format!("{tag}: {key} lacks .{name}"));
                }
            }
            let next = format!(
                "method-{}",
                beside.iter().filter(|name| name.starts_with("method-")).count() + 1
            );
            if catalogue::beside(tag, key, &next).is_some() {
                faults.push(format!("{tag}: {key} says .{next}, which the check does not"));
            }
        }
        let citations = sources_of_checks(built_in);
        for key in &known {
            let of = catalogue::beside(tag, key, "of");
            if !of.is_some_and(|of| citations.contains(&of)) {
                faults.push(format!("{tag}: nothing says {key}"));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// The sentences of common practice, and of what is computed, that checks and their limits are founded on.
fn sources_of_checks(built_in: &Catalogue) -> BTreeSet<String> {
    let mut sources: Vec<&Source> = Vec::new();
    for check in &built_in.checks {
        sources.extend([&check.source, &check.severity_source, &check.minutes_source]);
        if let Answer::Reading { limits, .. } = &check.answer {
            sources.extend(limits.iter().map(|limit| &limit.source));
        }
    }
    let practice = sources
        .into_iter()
        .filter(|source| matches!(source.standing, Standing::CommonPractice | Standing::Computed));
    let citations = practice.map(|source| source.citation.trim().to_owned());
    citations.filter(|citation| !citation.is_empty()).collect()
}

#[test]
fn a_translation_is_of_the_version_that_is_asked() {
    let mut faults = Vec::new();
    for language in others() {
        for check in &builtin().unwrap().checks {
            let version = catalogue::beside(language.tag(), &format!("check-{}", check.code), "version");
            if version.as_deref() != Some(check.version.to_string().as_str()) {
                faults.push(format!(
                    "{language}: check-{} is of version {}, the check of {}",
                    check.code,
                    version.unwrap_or_default(),
                    check.version
                ));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

fn spanish() -> Language {
    Language::of("es")
}

#[test]
fn a_check_of_another_version_or_of_the_office_is_shown_as_written() {
    let check = builtin().unwrap().check("wc_tank_firm").unwrap();
    assert_eq!(spanish().check(check).title, "Tanque firme sobre la taza");
    assert_eq!(spanish().check(check).pass, "Firme");
    let newer = Check {
        version: check.version + 1,
        ..check.clone()
    };
    assert_eq!(
        spanish().check(&newer).title,
        check.title,
        "the procedure may have changed"
    );
    let own = Check {
        code: "our_tank".parse().unwrap(),
        ..check.clone()
    };
    let shown: CheckWords = spanish().check(&own);
    assert_eq!(
        (shown.title, shown.ask, shown.method),
        (own.title, own.ask, own.method)
    );
}

#[test]
fn english_is_what_is_written_in_the_catalogue_of_the_trade() {
    for check in &builtin().unwrap().checks {
        let shown = Language::ENGLISH.check(check);
        assert_eq!(
            (&shown.title, &shown.ask, &shown.method),
            (&check.title, &check.ask, &check.method)
        );
        for limit in match &check.answer {
            Answer::Reading { limits, .. } => limits.as_slice(),
            Answer::Verdict { .. } => &[],
        } {
            assert_eq!(Language::ENGLISH.source(&limit.source), limit.source.phrase());
        }
    }
    for caution in Caution::ALL {
        assert_eq!(Language::ENGLISH.warning(*caution), caution.warning());
    }
    assert_eq!(Language::ENGLISH.deference(), caution::DEFERENCE);
}

/// What keeps people alive is said in each language with every figure that English has, in the same order.
#[test]
fn cautions_and_urgent_steps_keep_their_figures() {
    let figures = |text: &str| -> Vec<String> {
        let parts = text.split(|c: char| !c.is_ascii_digit());
        parts.filter(|part| !part.is_empty()).map(str::to_owned).collect()
    };
    for language in others() {
        for caution in Caution::ALL {
            let said = language.warning(*caution);
            assert_ne!(said, caution.warning());
            assert_eq!(figures(&said), figures(&caution.warning()), "{language}: {said}");
        }
        for urgency in Urgency::ALL {
            let steps = language.steps(*urgency);
            assert_eq!(steps.len(), urgency.steps().len());
            assert_ne!(steps[0], urgency.steps()[0]);
        }
        for check in &builtin().unwrap().checks {
            let shown = language.check(check);
            let both = [(&shown.ask, &check.ask)]
                .into_iter()
                .chain(shown.method.iter().zip(&check.method));
            for (said, written) in both {
                assert_eq!(figures(said), figures(written), "{}: {said}", check.code);
            }
        }
    }
}

#[test]
fn gas_comes_first_in_every_language() {
    for language in Language::all() {
        let said = language.warnings(&[Caution::HotWater, Caution::Gas], None);
        assert!(said[0].starts_with(&language.gas_smell()), "{said:?}");
        assert_eq!(said.len(), 2);
    }
}

#[test]
fn a_limit_and_its_source_are_read_in_the_language() {
    let check = builtin().unwrap().check("wc_refill").unwrap();
    let Answer::Reading { limits, .. } = &check.answer else {
        panic!("a reading")
    };
    assert_eq!(spanish().limit(&limits[0]), "como máximo 180 s");
    assert!(
        spanish()
            .source(&limits[0].source)
            .starts_with("práctica común: hay varias opiniones")
    );
    assert_eq!(spanish().source(&Source::published("IPC 405.3.1")), "IPC 405.3.1");
}

#[test]
fn a_kept_reason_is_read_in_the_language_and_its_own_words_stay() {
    let said = |kept| spanish().reason(kept);
    assert_eq!(said("No access to the room"), "Sin acceso al cuarto");
    assert_eq!(
        said("Water, power or gas is off: riser shut until noon"),
        "El agua, la luz o el gas están cortados: riser shut until noon"
    );
    assert_eq!(said("Nobody at home"), "No hay nadie en casa");
    assert_eq!(said("dog in the bathroom"), "dog in the bathroom");
    assert_eq!(
        Language::ENGLISH.reason("Nobody at home: rang twice"),
        "Nobody at home: rang twice"
    );
}
