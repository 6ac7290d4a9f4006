//! The page of one turnover, for whoever shows it first or again: loads it, lays out the walk and the steps.

use std::collections::HashMap;
use std::sync::Arc;

use actix_web::HttpRequest;

use super::kept::Record;
use super::said;
use super::walk::{self, Walk};
use crate::actions::deficiencies::Titles;
use crate::actions::turnovers::refusal;
use crate::clock::Now;
use crate::domain::due::Window;
use crate::domain::register::person::{Actor, Role};
use crate::domain::register::{CheckId, FixtureId, TurnoverId};
use crate::domain::trade::{PartKind, TurnoverStage};
use crate::domain::turnover::Item;
use crate::error::{Error, FieldError, Result};
use crate::language::Language;
use crate::store::document_forms;
use crate::store::documents;
use crate::store::lists::arrivals;
use crate::store::lists::record as rows;
use crate::store::lists::turnovers::{Survey, Surveyor};
use crate::store::lists::unit_phones;
use crate::store::{AnyConnection, checks, photos, spots};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, to_mend};
use crate::web::pages::record::answers::{self, Key};
use crate::web::pages::record::leak_points::Wrong;
use crate::web::pages::record::questions::{self, Question};
use crate::web::pages::record::refusals;
use crate::web::respond;

/// What the page shows beside the turnover itself, from its address or from the form it is shown again for.
#[derive(Debug, Clone, Default)]
pub(super) struct Asked {
    /// Which part of the checklist; none for the one that is worked on.
    pub part: Option<TurnoverStage>,
    /// An answered item to answer again: fixture, part, check.
    pub again: Option<(FixtureId, Option<PartKind>, String)>,
    /// The deficiency whose waiver form is open.
    pub waive: Option<i64>,
    /// Whether the form to cancel is open.
    pub cancels: bool,
}

impl Asked {
    pub fn read(fields: &Fields) -> Self {
        use crate::domain::code::Coded as _;
        let fixture = fields.text("fixture").parse().ok().map(FixtureId);
        let part = PartKind::from_code(fields.text("part")).ok();
        Self {
            part: said::part_named(fields.text("stage")),
            again: fixture.map(|fixture| (fixture, part, fields.text("check").to_owned())),
            waive: fields.text("waive").parse().ok(),
            cancels: fields.has("cancel"),
        }
    }
}

/// Everything the page is made of.
pub(super) struct Loaded {
    pub survey: Survey,
    pub part: TurnoverStage,
    pub questions: Vec<Question>,
    pub wrong: Vec<Wrong>,
    pub arrived: usize,
    pub phones: Vec<said::PhoneSaid>,
    pub titles: Titles,
    pub record: Option<Record>,
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    (now, language): (Now, Language),
    id: TurnoverId,
    asked: &Asked,
    carried: &[Key],
) -> Result<Loaded> {
    let survey = Surveyor::new(conn, now)?.survey(conn, &actor.scope, id)?;
    let part = asked.part.unwrap_or(survey.turnover.stage.asks());
    let all = checks::load_all(conn)?;
    let wrong = questions::wrong_in(conn, survey.unit.id, &all)?;
    let questions = if survey.turnover.stage.is_open() {
        let wanted = |item: &&Item| item.key.stage == part && is_wanted(item, asked, carried);
        let items: Vec<&Item> = survey.list.items.iter().filter(wanted).collect();
        ask(conn, actor, &survey, &items)?
    } else {
        Vec::new()
    };
    let arrived = if actor.role == Role::Manager {
        arrivals::unseen(conn, &actor.scope, Some(id))?
    } else {
        0
    };
    let unit = survey.turnover.unit;
    let phones = unit_phones::of_units(conn, &[unit])?
        .remove(&unit)
        .unwrap_or_default();
    let phones = said::phones(language, &survey, &phones, now);
    let record = match documents::of_turnover(conn, id)? {
        None => None,
        Some(paper) => {
            let forms = document_forms::of_document(conn, paper.id)?;
            let photos = photos::of_turnover(conn, id)?;
            Some(Record::of(language, &survey, &paper, forms, &photos))
        }
    };
    Ok(Loaded {
        arrived,
        phones,
        titles: Titles::among(language, &all),
        record,
        survey,
        part,
        questions,
        wrong,
    })
}

/// A form shown again asks what it asked; else what has no answer, and what is to be answered again.
fn is_wanted(item: &Item, asked: &Asked, carried: &[Key]) -> bool {
    let is = |fixture: FixtureId, part: Option<PartKind>, check: &str| {
        item.key.fixture == fixture && item.key.part == part && item.check.code.as_str() == check
    };
    if !carried.is_empty() {
        return carried.iter().any(|key| is(key.fixture, key.part, &key.check));
    }
    let again = asked.again.as_ref();
    !item.is_answered || again.is_some_and(|(fixture, part, check)| is(*fixture, *part, check))
}

/// The items as questions, in the order of the checklist.
fn ask(conn: &mut AnyConnection, actor: &Actor, survey: &Survey, items: &[&Item]) -> Result<Vec<Question>> {
    let spots: HashMap<FixtureId, _> = spots::in_unit(conn, &actor.scope, survey.unit.id)?
        .into_iter()
        .map(|spot| (spot.fixture, Arc::new(spot)))
        .collect();
    let windows: HashMap<(FixtureId, Option<PartKind>, CheckId), Window> =
        rows::of_unit(conn, survey.unit.id)?
            .into_iter()
            .map(|row| ((row.fixture, row.part, row.check), row.window))
            .collect();
    let questions = items.iter().filter_map(|item| {
        let key = item.key;
        Some(Question {
            spot: Arc::clone(spots.get(&key.fixture)?),
            part: key.part,
            check_id: key.check,
            check: Arc::clone(&item.check),
            window: item
                .due
                .and_then(|_| windows.get(&(key.fixture, key.part, key.check)).copied()),
            recheck: item.rechecks.first().copied(),
        })
    });
    Ok(questions.collect())
}

/// Shows the page.
pub(super) async fn render(
    context: &Context,
    request: &HttpRequest,
    id: TurnoverId,
    asked: Asked,
    (fields, errors): (Fields, Vec<FieldError>),
) -> PageResult {
    let (now, wish) = ((context.now, context.language()), asked.clone());
    let carried = answers::keys(&fields);
    let loaded = context
        .read(move |conn, actor| load(conn, actor, now, id, &wish, &carried))
        .await?;
    let heading = context.say("turnover-of-unit");
    let heading = heading.with("unit", &loaded.survey.unit.facts.label);
    let chrome = Chrome::new(context, request, &heading.to_string()).spoken();
    let is_again = !errors.is_empty();
    let errors = said(context.language(), &loaded, errors);
    let page: Walk = walk::page(context, chrome, &loaded, &asked, (fields, errors));
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

/// What is to be mended in the words of the language; a refused step by what keeps it back.
fn said(language: Language, loaded: &Loaded, errors: Vec<FieldError>) -> Vec<FieldError> {
    let survey = &loaded.survey;
    let blocks = survey.blocks();
    let next = survey.turnover.stage.next();
    let errors = refusals::said(language, errors, &loaded.questions);
    let errors = errors.into_iter().map(|error| match next {
        Some(next) if error.message == refusal(next, &blocks) => FieldError {
            message: language.not_yet(next, &blocks, &survey.list),
            ..error
        },
        _ => error,
    });
    language.errors(errors.collect())
}

/// Shows the page again with what to mend.
pub(super) async fn again(
    context: &Context,
    request: &HttpRequest,
    id: TurnoverId,
    asked: Asked,
    (fields, error): (Fields, Error),
) -> PageResult {
    let errors = refusals::on_the_form(to_mend(error)?, &answers::keys(&fields));
    render(context, request, id, asked, (fields, errors)).await
}
