//! Measures a leak: drips, a timed cup, a tank's drop, a refill cycle, a meter, a hole. One way a screen, on the phone.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::of_deficiency::{self, Lost};
use super::words;
use crate::actions::deficiencies::Titles;
use crate::actions::water::{Instead, Measure, measure};
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Actor;
use crate::domain::trade::Caution;
use crate::domain::trade::water::Method;
use crate::error::{Error, FieldError, Result};
use crate::exchange::catalogue;
use crate::language::Language;
use crate::store::spots::SpotUnit;
use crate::store::{AnyConnection, deficiencies, lists, spots, water};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/water/measure.html")]
struct MeasurePage {
    chrome: Chrome,
    id: i64,
    title: String,
    unit: SpotUnit,
    stands: bool,
    ways: Vec<(&'static str, String, bool)>,
    method: &'static str,
    when: String,
    asks: Vec<Ask>,
    conventions: Vec<Choice>,
    convention: String,
    cautions: Vec<String>,
    lost: Lost,
    history: Vec<Row>,
    errors: Vec<FieldError>,
}

struct Ask {
    name: &'static str,
    label: String,
    value: String,
    unit: String,
    hint: String,
}

struct Row {
    when: String,
    who: String,
    method: String,
    typed: String,
    a_day: String,
    convention: String,
}

/// Shows what is lost and the form of one way of measuring.
///
/// # Errors
/// When there is no such deficiency that may be seen, or no such way of measuring.
pub async fn show(context: Context, request: HttpRequest, deficiency: web::Path<i64>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let method = method(&asked)?;
    let id = DeficiencyId(*deficiency);
    render(&context, &request, id, method, asked, Vec::new()).await
}

/// Takes a measurement.
///
/// # Errors
/// When there is no such deficiency that may be seen, or no such way of measuring.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    deficiency: web::Path<i64>,
    form: Form,
) -> PageResult {
    let (id, Form(typed)) = (DeficiencyId(*deficiency), form);
    let method = method(&typed)?.unwrap_or(Method::Drips);
    let names = method.asks().iter().map(|asked| asked.name);
    let command = Measure {
        deficiency: id,
        method,
        typed: names
            .chain(["convention"])
            .map(|name| (name.to_owned(), typed.text(name).to_owned()))
            .collect(),
    };
    let done = context
        .act(move |db, actor, now| measure(db, actor, now, &command))
        .await;
    match done {
        Ok(loss) => Ok(respond::redirect_saying(
            &format!("/deficiencies/{id}/water?method={method}"),
            &context
                .say("water-measured")
                .with("gallons", words::number(context.language(), loss.gallons_a_day()))
                .with("litres", words::number(context.language(), loss.litres_a_day()))
                .to_string(),
        )),
        Err(error) => {
            let errors = to_mend(error)?;
            render(&context, &request, id, Some(method), typed, errors).await
        }
    }
}

fn method(fields: &Fields) -> Result<Option<Method>> {
    match fields.text("method") {
        "" => Ok(None),
        code => Method::from_code(code).map(Some).map_err(Error::refused),
    }
}

async fn render(
    context: &Context,
    request: &HttpRequest,
    id: DeficiencyId,
    method: Option<Method>,
    typed: Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    let (now, language) = (context.now, context.language());
    let is_again = !errors.is_empty();
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, language, (id, method), &typed))
        .await?;
    let title = context.say("water-lost-title").with("number", id.to_string());
    page.chrome = Chrome::new(context, request, &title.to_string()).spoken();
    page.errors = language.errors(errors);
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    language: Language,
    (id, method): (DeficiencyId, Option<Method>),
    typed: &Fields,
) -> Result<MeasurePage> {
    let one = deficiencies::find(conn, &actor.scope, id)?;
    let unit = spots::unit(conn, &actor.scope, one.unit)?;
    let kept = water::of_deficiency(conn, id)?;
    let method = method
        .or_else(|| kept.first().map(|last| last.method))
        .unwrap_or(Method::Drips);
    let matter = of_deficiency::load(conn, now, language, (&one, &unit), Instead::default())?;
    let kind = match one.tag {
        Some(tag) => spots::at_tag(conn, &actor.scope, tag)?.map(|spot| spot.kind),
        None => None,
    };
    let people: Vec<_> = kept.iter().filter_map(|one| one.person).collect();
    let names = lists::deficiencies::names(conn, &people)?;
    let zone = unit.building.zone;
    let history = kept.iter().map(|kept| Row {
        when: language.moment(kept.measured_at, zone, now.date_in(zone)),
        who: kept.person.map_or_else(
            || language.say("deficiency-command-line").into(),
            |person| names.get(&person).cloned().unwrap_or_default(),
        ),
        method: language.word(kept.method),
        typed: words::typed(language, kept),
        a_day: words::a_day(language, &kept.loss, unit.building.length_unit),
        convention: language.sentence(&kept.loss.convention),
    });
    let knowledge = &catalogue::builtin().map_err(Error::internal)?.water;
    Ok(MeasurePage {
        chrome: Chrome::anonymous(""),
        id: id.0,
        title: Titles::load(conn, language)?.of(&one),
        stands: one.stands(),
        ways: Method::ALL
            .iter()
            .map(|way| (way.code(), language.word(*way), *way == method))
            .collect(),
        method: method.code(),
        when: language.sentence(method.when()),
        asks: asks(method, language, typed),
        conventions: match method {
            Method::Drips => knowledge
                .conventions
                .iter()
                .map(|one| Choice::new(one.code.as_str(), language.sentence(&one.name)))
                .collect(),
            _ => Vec::new(),
        },
        convention: typed.text("convention").to_owned(),
        cautions: language.warnings(dangers(method), kind),
        history: history.collect(),
        lost: matter.lost,
        errors: Vec::new(),
        unit,
    })
}

fn asks(method: Method, language: Language, typed: &Fields) -> Vec<Ask> {
    let ask = |asked: &crate::domain::trade::water::Asked| Ask {
        name: asked.name,
        label: language.sentence(asked.label),
        value: typed.text(asked.name).to_owned(),
        unit: match asked.unit.symbol() {
            "" => language.say("water-a-minute").into(),
            symbol => symbol.to_owned(),
        },
        hint: language.sentence(asked.hint),
    };
    method.asks().iter().map(ask).collect()
}

/// The dangers of a way of measuring.
const fn dangers(method: Method) -> &'static [Caution] {
    match method {
        Method::Drips | Method::Cup => &[Caution::HotWater],
        Method::Tank => &[Caution::OldStops],
        Method::Pinhole => &[Caution::Pressure, Caution::HotWater],
        Method::Cycle | Method::Meter => &[],
    }
}
