//! The page of questions, for a unit or one fixture: shown, sent, shown again with what to mend. A single question is shown as one
//! screen with its answers as bars.

use actix_web::{HttpRequest, HttpResponse};
use askama::Template;
use chrono::NaiveDate;

use super::answers::{self, Key};
use super::one;
use super::questions::{self, Question, Wish};
use super::refusals;
use super::sheet::{Layout, Sheet, Wanted, sheet};
use crate::actions::results::{RecordResults, Recorded, record};
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::person::Actor;
use crate::domain::register::{FixtureId, Service, TurnoverId, UnitId, VisitId};
use crate::domain::trade::{PartKind, TurnoverStage};
use crate::error::{Error, FieldError, Result};
use crate::language::Language;
use crate::store::spots::{self, Spot, SpotUnit};
use crate::store::{AnyConnection, Db, results};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Where answers are given.
#[derive(Debug, Clone, Copy)]
pub(super) enum Place {
    /// In a whole unit.
    Unit(UnitId),
    /// On one fixture.
    Fixture(FixtureId),
}

impl Place {
    fn address(self) -> String {
        match self {
            Self::Unit(unit) => format!("/units/{unit}/record"),
            Self::Fixture(fixture) => format!("/fixtures/{fixture}/record"),
        }
    }
}

#[derive(Template)]
#[template(path = "pages/record/sheet.html")]
struct RecordPage {
    chrome: Chrome,
    unit: SpotUnit,
    spot: Option<Spot>,
    kind: Option<String>,
    heading: String,
    home: String,
    action: String,
    passed_on: Vec<(&'static str, String)>,
    now: Sheet,
    later: Sheet,
    done_at: String,
    errors: Vec<FieldError>,
}

/// What a page is made of.
pub(super) struct Loaded {
    pub(super) unit: SpotUnit,
    pub(super) spot: Option<Spot>,
    today: NaiveDate,
    wanted: Vec<Question>,
    later: Vec<Question>,
    wrong: Vec<super::leak_points::Wrong>,
}

impl Loaded {
    fn layout(&self, language: Language) -> Layout<'_> {
        Layout {
            language,
            wrong: &self.wrong,
            today: self.today,
        }
    }
}

/// What a page is asked with, from its address or from the form that it was sent by.
#[derive(Debug, Clone, Default)]
struct Asked {
    wish: Wish,
    turnover: Option<TurnoverId>,
}

impl Asked {
    fn read(fields: &Fields) -> Self {
        let number = |name: &str| fields.text(name).parse::<i64>().ok();
        Self {
            wish: Wish {
                check: fields.text("check").to_owned(),
                fixture: number("fixture").map(FixtureId),
                part: PartKind::from_code(fields.text("part")).ok(),
                visit: number("visit").map(VisitId),
                stage: TurnoverStage::from_code(fields.text("stage")).ok(),
            },
            turnover: number("turnover").map(TurnoverId),
        }
    }

    /// The stage that a turnover asks for now, unless the address names another.
    fn settle_stage(&mut self, conn: &mut AnyConnection) -> Result<()> {
        let Some(turnover) = self.turnover else {
            self.wish.stage = None;
            return Ok(());
        };
        if self.wish.stage.is_none() {
            let stands = results::turnover_at(conn, turnover)?.map(|(_, stage)| stage);
            self.wish.stage = Some(match stands.as_deref() {
                Some("repaired") => TurnoverStage::Ready,
                Some("ready") => TurnoverStage::MoveIn,
                _ => TurnoverStage::Found,
            });
        }
        Ok(())
    }

    /// What the form hands on to whoever receives it.
    fn passed_on(&self) -> Vec<(&'static str, String)> {
        let named = [
            ("visit", self.wish.visit.map(|visit| visit.to_string())),
            ("turnover", self.turnover.map(|turnover| turnover.to_string())),
            ("stage", self.wish.stage.map(|stage| stage.to_string())),
        ];
        named
            .into_iter()
            .filter_map(|(name, value)| Some((name, value?)))
            .collect()
    }
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    place: Place,
    asked: &mut Asked,
    keys: &[Key],
) -> Result<Loaded> {
    let (unit, spot) = match place {
        Place::Unit(unit) => (spots::unit(conn, &actor.scope, unit)?, None),
        Place::Fixture(fixture) => {
            let spot = spots::of_fixture(conn, &actor.scope, fixture)?;
            if spot.status != Service::InService {
                return Err(Error::refused(format!(
                    "{} is {}, so nothing more is recorded on it. Record on what stands there now.",
                    spot.tag_label,
                    spot.status.name().to_lowercase()
                )));
            }
            (spot.unit.clone(), Some(spot))
        }
    };
    asked.settle_stage(conn)?;
    let today = now.date_in(unit.building.zone);
    let book = match &spot {
        None => questions::of_unit(conn, actor, unit.id, today)?,
        Some(spot) => questions::of_fixture(conn, actor, spot, today)?,
    };
    let wrong = book.wrong.clone();
    let (wanted, later) = if !keys.is_empty() {
        let carried = |question: &Question| keys.iter().any(|key| key.is_of(question));
        (book.questions.into_iter().filter(carried).collect(), Vec::new())
    } else if spot.is_none() || !asked.wish.check.is_empty() {
        (book.keep(conn, &asked.wish, today)?.questions, Vec::new())
    } else {
        book.questions
            .into_iter()
            .partition(|question| question.is_wanted(today))
    };
    Ok(Loaded {
        unit,
        spot,
        today,
        wanted,
        later,
        wrong,
    })
}

fn render(
    chrome: Chrome,
    place: Place,
    asked: &Asked,
    loaded: Loaded,
    fields: &Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    let is_again = !errors.is_empty();
    let language = chrome.language;
    let errors = language.errors(refusals::said(language, errors, &loaded.wanted));
    let now = sheet(&loaded.wanted, loaded.layout(language), fields, &errors);
    let passed_on = asked.passed_on();
    if fields.text("screen") == "one" || (!asked.wish.check.is_empty() && now.asked == 1) {
        return one::render(chrome, place.address(), passed_on, &loaded, now, errors);
    }
    let later = after(&now, &loaded, language, fields);
    let heading = match &loaded.spot {
        None => language.say("record-unit").with("unit", &loaded.unit.label),
        Some(spot) => language.say("record-at").with("place", &spot.tag_label),
    };
    let page = RecordPage {
        heading: heading.into(),
        kind: loaded.spot.as_ref().map(|spot| language.word(spot.kind)),
        chrome,
        home: format!("/units/{}", loaded.unit.id),
        action: place.address(),
        passed_on,
        now,
        later,
        done_at: fields.text("done_at").to_owned(),
        unit: loaded.unit,
        spot: loaded.spot,
        errors,
    };
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

fn chrome(context: &Context, request: &HttpRequest, loaded: &Loaded) -> Chrome {
    let title = context.say("record-at").with("place", &loaded.unit.label);
    Chrome::new(context, request, &title.to_string()).spoken()
}

/// The questions that are not due yet, numbered on from the others.
fn after(now: &Sheet, loaded: &Loaded, language: Language, fields: &Fields) -> Sheet {
    let mut numbered = fields.clone();
    for ask in now.asks() {
        numbered.add("ask", ask.key.as_str());
    }
    sheet(&loaded.later, loaded.layout(language), &numbered, &[])
}

/// Shows the questions.
pub(super) async fn show(context: Context, request: HttpRequest, place: Place) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let mut asked = Asked::read(&fields);
    let now = context.now;
    let (asked, loaded) = context
        .read(move |conn, actor| {
            let loaded = load(conn, actor, now, place, &mut asked, &[])?;
            Ok((asked, loaded))
        })
        .await?;
    let chrome = chrome(&context, &request, &loaded);
    // What the address says narrows the page; it answers nothing.
    render(chrome, place, &asked, loaded, &Fields::default(), Vec::new())
}

/// Records what was answered.
pub(super) async fn submit(context: Context, request: HttpRequest, form: Form, place: Place) -> PageResult {
    let Form(fields) = form;
    let asked = Asked::read(&fields);
    let (typed, sent) = (fields.clone(), asked.clone());
    let done = context
        .act(move |db, actor, now| send(db, actor, now, place, &typed, &sent))
        .await;
    match done {
        Ok((unit, recorded)) => Ok(to_what_came_of_it(unit, &asked, &recorded)),
        Err(error) => {
            let errors = refusals::on_the_form(to_mend(error)?, &answers::keys(&fields));
            again(&context, &request, place, asked, fields, errors).await
        }
    }
}

fn send(
    db: &Db,
    actor: &Actor,
    now: Now,
    place: Place,
    typed: &Fields,
    asked: &Asked,
) -> Result<(UnitId, Recorded)> {
    let unit = db.read(|conn| match place {
        Place::Unit(unit) => spots::unit(conn, &actor.scope, unit),
        Place::Fixture(fixture) => Ok(spots::of_fixture(conn, &actor.scope, fixture)?.unit),
    })?;
    let batch = RecordResults {
        answers: answers::answers(typed, &answers::keys(typed)).map_err(Error::Fields)?,
        done_at: answers::done_at(typed, unit.building.zone, now).map_err(Error::Fields)?,
        turnover: asked.turnover.zip(asked.wish.stage),
        visit: asked.wish.visit,
        ..RecordResults::default()
    };
    Ok((unit.id, record(db, actor, now, &batch)?))
}

/// Shows the form again with what to mend.
async fn again(
    context: &Context,
    request: &HttpRequest,
    place: Place,
    mut asked: Asked,
    fields: Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    let (now, keys) = (context.now, answers::keys(&fields));
    let (asked, loaded) = context
        .read(move |conn, actor| {
            let loaded = load(conn, actor, now, place, &mut asked, &keys)?;
            Ok((asked, loaded))
        })
        .await?;
    let chrome = chrome(context, request, &loaded);
    render(chrome, place, &asked, loaded, &fields, errors)
}

fn to_what_came_of_it(unit: UnitId, asked: &Asked, recorded: &Recorded) -> HttpResponse {
    let mut to = format!(
        "/units/{unit}/recorded?at={}",
        recorded.received_at.format("%Y-%m-%dT%H:%M:%S%.3f")
    );
    for (name, value) in asked.passed_on() {
        to.push_str(&format!("&{name}={value}"));
    }
    respond::redirect(&to)
}
