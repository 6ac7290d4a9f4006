//! The tables as diesel sees them: one declaration for both databases. Comments with units stand in `migrations/`.
#![expect(
    missing_docs,
    reason = "generated column accessors; each column is described in the migrations"
)]

diesel::table! {
    portfolios (id) {
        id -> BigInt,
        code -> Text,
        name -> Text,
    }
}

diesel::table! {
    people (id) {
        id -> BigInt,
        name -> Text,
        email -> Text,
        role -> Text,
        status -> Text,
        password_hash -> Nullable<Text>,
        time_zone -> Text,
        digest_hour -> BigInt,
        created_at -> Timestamp,
        last_seen_at -> Nullable<Timestamp>,
        language -> Text,
    }
}

diesel::table! {
    buildings (id) {
        id -> BigInt,
        portfolio_id -> BigInt,
        code -> Text,
        name -> Text,
        address -> Text,
        time_zone -> Text,
        code_profile -> Text,
        length_unit -> Text,
        notice_hours -> BigInt,
        joined_on -> Date,
        built_year -> Nullable<BigInt>,
        base_joint -> Text,
        technician_id -> Nullable<BigInt>,
        created_at -> Timestamp,
    }
}

diesel::table! {
    units (id) {
        id -> BigInt,
        building_id -> BigInt,
        label -> Text,
        label_order -> Text,
        kind -> Text,
        floor -> BigInt,
        riser -> Nullable<BigInt>,
        occupancy -> Text,
        spread_ppm -> BigInt,
    }
}

diesel::table! {
    households (id) {
        id -> BigInt,
        unit_id -> BigInt,
        name -> Text,
        language -> Text,
        contact -> Text,
        agreed_hours -> Text,
        no_entry_days -> Text,
        moved_in_on -> Date,
        moved_out_on -> Nullable<Date>,
    }
}

diesel::table! {
    rooms (id) {
        id -> BigInt,
        unit_id -> BigInt,
        name -> Text,
        walk_order -> BigInt,
    }
}

diesel::table! {
    tags (id) {
        id -> BigInt,
        unit_id -> BigInt,
        room_id -> Nullable<BigInt>,
        label -> Text,
        label_order -> Text,
    }
}

diesel::table! {
    fixtures (id) {
        id -> BigInt,
        tag_id -> BigInt,
        kind -> Text,
        maker -> Text,
        model -> Text,
        installed_on -> Nullable<Date>,
        installed_estimated -> Bool,
        status -> Text,
        stood_from -> Date,
        stood_until -> Nullable<Date>,
        replaces_id -> Nullable<BigInt>,
        note -> Text,
    }
}

diesel::table! {
    parts (id) {
        id -> BigInt,
        fixture_id -> BigInt,
        kind -> Text,
        installed_on -> Nullable<Date>,
        installed_estimated -> Bool,
        status -> Text,
        stood_from -> Date,
        stood_until -> Nullable<Date>,
    }
}

diesel::table! {
    checks (id) {
        id -> BigInt,
        code -> Text,
        origin -> Text,
        version -> BigInt,
        title -> Text,
        severity -> Text,
        minutes -> Double,
        active -> Bool,
        body -> Text,
    }
}

diesel::table! {
    check_versions (check_id, version) {
        check_id -> BigInt,
        version -> BigInt,
        body -> Text,
        valid_from -> Timestamp,
    }
}

diesel::table! {
    schedules (id) {
        id -> BigInt,
        code -> Text,
        name -> Text,
        pack -> Text,
        active -> Bool,
        recorded_only -> Bool,
        anchor -> Text,
        rule -> Text,
        start_on -> Nullable<Date>,
        lead_days -> BigInt,
        grace_days -> BigInt,
        early_days -> BigInt,
        scope_kinds -> Text,
        scope_parts -> Text,
        scope_buildings -> Text,
        scope_tags -> Text,
        scope_min_age_years -> Nullable<BigInt>,
        scope_max_age_years -> Nullable<BigInt>,
        technician_id -> Nullable<BigInt>,
        version -> BigInt,
        scope_min_failures -> Nullable<BigInt>,
        on_closed_days -> Text,
        season_months -> Text,
        vacancy -> Text,
    }
}

diesel::table! {
    schedule_checks (schedule_id, check_id) {
        schedule_id -> BigInt,
        check_id -> BigInt,
    }
}

diesel::table! {
    prior_done (tag_id, part, check_id) {
        tag_id -> BigInt,
        part -> Text,
        check_id -> BigInt,
        done_on -> Date,
    }
}

diesel::table! {
    due_turns (id) {
        id -> BigInt,
        live -> BigInt,
    }
}

diesel::table! {
    due_marks (building_id) {
        building_id -> BigInt,
        number -> BigInt,
    }
}

diesel::table! {
    due_rows (fixture_id, part, check_id, turn) {
        turn -> BigInt,
        fixture_id -> BigInt,
        part -> Text,
        check_id -> BigInt,
        building_id -> BigInt,
        unit_id -> BigInt,
        schedule_id -> BigInt,
        basis -> Text,
        counts_from -> Date,
        opens -> Date,
        due -> Date,
        last_day -> Date,
        moved_from -> Nullable<Date>,
    }
}

// A view: the rows of `due_rows` whose turn is live.
diesel::table! {
    due_items (fixture_id, part, check_id) {
        fixture_id -> BigInt,
        part -> Text,
        check_id -> BigInt,
        building_id -> BigInt,
        unit_id -> BigInt,
        schedule_id -> BigInt,
        basis -> Text,
        counts_from -> Date,
        opens -> Date,
        due -> Date,
        last_day -> Date,
        moved_from -> Nullable<Date>,
    }
}

diesel::table! {
    turnovers (id) {
        id -> BigInt,
        building_id -> BigInt,
        unit_id -> BigInt,
        move_out_on -> Date,
        move_in_on -> Date,
        stage -> Text,
        opened_at -> Timestamp,
        opened_by -> Nullable<BigInt>,
        ready_at -> Nullable<Timestamp>,
        ready_by -> Nullable<BigInt>,
        closed_at -> Nullable<Timestamp>,
        closed_by -> Nullable<BigInt>,
        signed_name -> Text,
        note -> Text,
        signature -> Text,
        signed_at -> Nullable<Timestamp>,
    }
}

diesel::table! {
    visits (id) {
        id -> BigInt,
        building_id -> BigInt,
        unit_id -> BigInt,
        on_date -> Date,
        technician_id -> Nullable<BigInt>,
        status -> Text,
        reason -> Text,
        note -> Text,
        created_at -> Timestamp,
        created_by -> Nullable<BigInt>,
        closed_at -> Nullable<Timestamp>,
    }
}

diesel::table! {
    results (id) {
        id -> BigInt,
        client_id -> Text,
        building_id -> BigInt,
        unit_id -> BigInt,
        tag_id -> BigInt,
        fixture_id -> BigInt,
        part -> Text,
        check_id -> BigInt,
        check_version -> BigInt,
        outcome -> Text,
        reason -> Text,
        reading -> Text,
        note -> Text,
        done_at -> Timestamp,
        done_on -> Date,
        received_at -> Timestamp,
        person_id -> Nullable<BigInt>,
        turnover_id -> Nullable<BigInt>,
        turnover_stage -> Nullable<Text>,
        visit_id -> Nullable<BigInt>,
        asked -> Text,
        detail -> Text,
    }
}

diesel::table! {
    deficiencies (id) {
        id -> BigInt,
        building_id -> BigInt,
        unit_id -> BigInt,
        tag_id -> Nullable<BigInt>,
        fixture_id -> Nullable<BigInt>,
        part -> Text,
        check_id -> Nullable<BigInt>,
        result_id -> Nullable<BigInt>,
        source -> Text,
        title -> Text,
        detail -> Text,
        severity -> Text,
        opened_at -> Timestamp,
        correct_by -> Nullable<Timestamp>,
        assignee_id -> Nullable<BigInt>,
        vendor -> Text,
        status -> Text,
        repaired_at -> Nullable<Timestamp>,
        parts_used -> Text,
        minutes -> Nullable<Double>,
        cost_minor -> Nullable<BigInt>,
        closed_at -> Nullable<Timestamp>,
        closed_how -> Nullable<Text>,
        repeats_id -> Nullable<BigInt>,
        own_severity -> Nullable<Text>,
    }
}

diesel::table! {
    deficiency_events (id) {
        id -> BigInt,
        deficiency_id -> BigInt,
        at -> Timestamp,
        person_id -> Nullable<BigInt>,
        kind -> Text,
        text -> Text,
        result_id -> Nullable<BigInt>,
    }
}

diesel::table! {
    visit_items (id) {
        id -> BigInt,
        visit_id -> BigInt,
        fixture_id -> Nullable<BigInt>,
        part -> Text,
        check_id -> Nullable<BigInt>,
        deficiency_id -> Nullable<BigInt>,
    }
}

diesel::table! {
    turnover_waivers (id) {
        id -> BigInt,
        turnover_id -> BigInt,
        deficiency_id -> BigInt,
        reason -> Text,
        person_id -> Nullable<BigInt>,
        signed_name -> Text,
        until_on -> Date,
        created_at -> Timestamp,
    }
}

diesel::table! {
    turnover_items (turnover_id, fixture_id, part, check_id, stage) {
        turnover_id -> BigInt,
        fixture_id -> BigInt,
        part -> Text,
        check_id -> BigInt,
        stage -> Text,
        added_on -> Nullable<Date>,
    }
}

diesel::table! {
    documents (id) {
        id -> BigInt,
        kind -> Text,
        building_id -> BigInt,
        turnover_id -> Nullable<BigInt>,
        number -> BigInt,
        as_of -> Date,
        media_type -> Text,
        file_name -> Text,
        bytes -> Binary,
        sha256 -> Text,
        issued_at -> Timestamp,
        issued_by -> Nullable<BigInt>,
    }
}

diesel::table! {
    person_portfolios (person_id, portfolio_id) {
        person_id -> BigInt,
        portfolio_id -> BigInt,
    }
}

diesel::table! {
    person_buildings (person_id, building_id) {
        person_id -> BigInt,
        building_id -> BigInt,
    }
}

diesel::table! {
    sessions (id) {
        id -> BigInt,
        token_hash -> Text,
        csrf -> Text,
        person_id -> BigInt,
        role -> Text,
        created_at -> Timestamp,
        last_seen_at -> Timestamp,
        ends_at -> Timestamp,
        user_agent -> Text,
    }
}

diesel::table! {
    one_time_tokens (token_hash) {
        token_hash -> Text,
        kind -> Text,
        person_id -> Nullable<BigInt>,
        created_at -> Timestamp,
        expires_at -> Timestamp,
        used_at -> Nullable<Timestamp>,
    }
}

diesel::table! {
    attempts (subject) {
        subject -> Text,
        tries -> BigInt,
        since -> Timestamp,
        last_at -> Timestamp,
    }
}

diesel::table! {
    import_files (upload, name) {
        upload -> Text,
        name -> Text,
        session_id -> BigInt,
        bytes -> Binary,
        created_at -> Timestamp,
    }
}

diesel::table! {
    outbox (id) {
        id -> BigInt,
        unique_key -> Text,
        kind -> Text,
        person_id -> Nullable<BigInt>,
        local_date -> Nullable<Date>,
        to_address -> Text,
        subject -> Text,
        text_body -> Text,
        html_body -> Text,
        message_id -> Text,
        sealed_link -> Nullable<Text>,
        status -> Text,
        attempts -> BigInt,
        next_try_at -> Timestamp,
        lease_until -> Nullable<Timestamp>,
        last_error -> Text,
        created_at -> Timestamp,
        sent_at -> Nullable<Timestamp>,
    }
}

diesel::table! {
    digest_days (person_id, local_date) {
        person_id -> BigInt,
        local_date -> Date,
        outbox_id -> Nullable<BigInt>,
    }
}

diesel::table! {
    audit (id) {
        id -> BigInt,
        at -> Timestamp,
        person_id -> Nullable<BigInt>,
        action -> Text,
        subject_kind -> Text,
        subject_id -> Nullable<BigInt>,
        before_json -> Nullable<Text>,
        after_json -> Nullable<Text>,
    }
}

diesel::table! {
    building_terms (building_id) {
        building_id -> BigInt,
        water_minor -> Nullable<BigInt>,
        sewer_minor -> Nullable<BigInt>,
        billed -> Text,
        currency -> Text,
        programme -> Text,
    }
}

diesel::table! {
    building_weeks (building_id) {
        building_id -> BigInt,
        working_days -> Text,
    }
}

diesel::table! {
    closings (id) {
        id -> BigInt,
        building_id -> BigInt,
        kind -> Text,
        name -> Text,
        start_on -> Date,
        rule -> Text,
        days -> BigInt,
    }
}

diesel::table! {
    water_losses (id) {
        id -> BigInt,
        deficiency_id -> BigInt,
        method -> Text,
        inputs -> Text,
        convention -> Text,
        litres_a_day -> Double,
        measured_at -> Timestamp,
        person_id -> Nullable<BigInt>,
    }
}

diesel::table! {
    diagnoses (id) {
        id -> BigInt,
        building_id -> BigInt,
        unit_id -> BigInt,
        tag_id -> BigInt,
        fixture_id -> BigInt,
        deficiency_id -> Nullable<BigInt>,
        symptom -> Text,
        said -> Text,
        cause -> Text,
        found -> Text,
        note -> Text,
        found_at -> Timestamp,
        person_id -> Nullable<BigInt>,
    }
}

diesel::table! {
    settings (key) {
        key -> Text,
        value -> Text,
    }
}

diesel::table! {
    labels (code) {
        code -> Text,
        tag_id -> BigInt,
        made_at -> Timestamp,
        made_by -> Nullable<BigInt>,
        ended_at -> Nullable<Timestamp>,
    }
}

diesel::table! {
    phones (id) {
        id -> Text,
        person_id -> BigInt,
        first_heard_at -> Timestamp,
        heard_at -> Timestamp,
        user_agent -> Text,
    }
}

diesel::table! {
    phone_units (phone_id, unit_id) {
        phone_id -> Text,
        unit_id -> BigInt,
        person_id -> BigInt,
        fetched_at -> Timestamp,
        heard_at -> Timestamp,
        unsent_answers -> BigInt,
        unsent_photos -> BigInt,
        done_at -> Nullable<Timestamp>,
    }
}

diesel::table! {
    phone_batches (id) {
        id -> Text,
        person_id -> BigInt,
        sha256 -> Text,
        begun_at -> Timestamp,
        answer -> Nullable<Text>,
    }
}

diesel::table! {
    phone_steps (client_id) {
        client_id -> Text,
        person_id -> BigInt,
        kind -> Text,
        received_at -> Timestamp,
        answer -> Text,
    }
}

diesel::table! {
    arrivals (id) {
        id -> BigInt,
        client_id -> Text,
        phone_id -> Text,
        person_id -> BigInt,
        building_id -> BigInt,
        unit_id -> BigInt,
        turnover_id -> Nullable<BigInt>,
        result_id -> Nullable<BigInt>,
        cause -> Text,
        sentence -> Text,
        sent -> Text,
        done_at -> Timestamp,
        received_at -> Timestamp,
        seen_at -> Nullable<Timestamp>,
        seen_by -> Nullable<BigInt>,
    }
}

diesel::table! {
    photos (id) {
        id -> BigInt,
        client_id -> Text,
        result_client_id -> Text,
        building_id -> BigInt,
        unit_id -> BigInt,
        turnover_id -> Nullable<BigInt>,
        person_id -> BigInt,
        taken_at -> Timestamp,
        announced_at -> Timestamp,
        sent_sha256 -> Text,
        sent_bytes -> BigInt,
        received_at -> Nullable<Timestamp>,
        sha256 -> Text,
        width -> Nullable<BigInt>,
        height -> Nullable<BigInt>,
        refused -> Text,
    }
}

diesel::table! {
    photo_files (photo_id) {
        photo_id -> BigInt,
        bytes -> Binary,
    }
}

diesel::table! {
    photo_pieces (photo_id, from_byte) {
        photo_id -> BigInt,
        from_byte -> BigInt,
        bytes -> Binary,
    }
}

diesel::table! {
    document_forms (document_id, form) {
        document_id -> BigInt,
        form -> Text,
        media_type -> Text,
        file_name -> Text,
        bytes -> Binary,
        sha256 -> Text,
    }
}

diesel::table! {
    urgent_reports (id) {
        id -> BigInt,
        client_id -> Text,
        kind -> Text,
        building_id -> Nullable<BigInt>,
        unit_id -> Nullable<BigInt>,
        person_id -> BigInt,
        note -> Text,
        said_at -> Timestamp,
        received_at -> Timestamp,
    }
}

diesel::table! {
    building_numbers (building_id, contact) {
        building_id -> BigInt,
        contact -> Text,
        number -> Text,
    }
}

diesel::joinable!(buildings -> portfolios (portfolio_id));
diesel::joinable!(buildings -> people (technician_id));
diesel::joinable!(units -> buildings (building_id));
diesel::joinable!(households -> units (unit_id));
diesel::joinable!(rooms -> units (unit_id));
diesel::joinable!(tags -> units (unit_id));
diesel::joinable!(tags -> rooms (room_id));
diesel::joinable!(fixtures -> tags (tag_id));
diesel::joinable!(parts -> fixtures (fixture_id));
diesel::joinable!(check_versions -> checks (check_id));
diesel::joinable!(schedules -> people (technician_id));
diesel::joinable!(schedule_checks -> schedules (schedule_id));
diesel::joinable!(schedule_checks -> checks (check_id));
diesel::joinable!(prior_done -> tags (tag_id));
diesel::joinable!(prior_done -> checks (check_id));
diesel::table! {
    former_schedules (schedule_id, version) {
        schedule_id -> BigInt,
        version -> BigInt,
        terms -> Text,
        replaced_at -> Timestamp,
        replaced_by -> Nullable<BigInt>,
    }
}
diesel::joinable!(former_schedules -> people (replaced_by));
diesel::joinable!(due_items -> fixtures (fixture_id));
diesel::joinable!(due_items -> checks (check_id));
diesel::joinable!(due_items -> buildings (building_id));
diesel::joinable!(due_items -> units (unit_id));
diesel::joinable!(due_items -> schedules (schedule_id));
diesel::joinable!(turnovers -> buildings (building_id));
diesel::joinable!(turnovers -> units (unit_id));
diesel::joinable!(visits -> buildings (building_id));
diesel::joinable!(visits -> units (unit_id));
diesel::joinable!(results -> buildings (building_id));
diesel::joinable!(results -> units (unit_id));
diesel::joinable!(results -> tags (tag_id));
diesel::joinable!(results -> fixtures (fixture_id));
diesel::joinable!(results -> checks (check_id));
diesel::joinable!(results -> people (person_id));
diesel::joinable!(results -> turnovers (turnover_id));
diesel::joinable!(results -> visits (visit_id));
diesel::joinable!(deficiencies -> buildings (building_id));
diesel::joinable!(deficiencies -> units (unit_id));
diesel::joinable!(deficiencies -> tags (tag_id));
diesel::joinable!(deficiencies -> fixtures (fixture_id));
diesel::joinable!(deficiencies -> checks (check_id));
diesel::joinable!(deficiencies -> results (result_id));
diesel::joinable!(deficiencies -> people (assignee_id));
diesel::joinable!(deficiency_events -> deficiencies (deficiency_id));
diesel::joinable!(deficiency_events -> people (person_id));
diesel::joinable!(deficiency_events -> results (result_id));
diesel::joinable!(visit_items -> visits (visit_id));
diesel::joinable!(visit_items -> fixtures (fixture_id));
diesel::joinable!(visit_items -> checks (check_id));
diesel::joinable!(visit_items -> deficiencies (deficiency_id));
diesel::joinable!(turnover_waivers -> turnovers (turnover_id));
diesel::joinable!(turnover_waivers -> deficiencies (deficiency_id));
diesel::joinable!(turnover_waivers -> people (person_id));
diesel::joinable!(turnover_items -> turnovers (turnover_id));
diesel::joinable!(turnover_items -> fixtures (fixture_id));
diesel::joinable!(turnover_items -> checks (check_id));
diesel::joinable!(documents -> buildings (building_id));
diesel::joinable!(documents -> turnovers (turnover_id));
diesel::joinable!(documents -> people (issued_by));
diesel::joinable!(person_portfolios -> people (person_id));
diesel::joinable!(person_portfolios -> portfolios (portfolio_id));
diesel::joinable!(person_buildings -> people (person_id));
diesel::joinable!(person_buildings -> buildings (building_id));
diesel::joinable!(building_terms -> buildings (building_id));
diesel::joinable!(building_weeks -> buildings (building_id));
diesel::joinable!(closings -> buildings (building_id));
diesel::joinable!(water_losses -> deficiencies (deficiency_id));
diesel::joinable!(water_losses -> people (person_id));
diesel::joinable!(diagnoses -> people (person_id));
diesel::joinable!(sessions -> people (person_id));
diesel::joinable!(one_time_tokens -> people (person_id));
diesel::joinable!(outbox -> people (person_id));
diesel::joinable!(audit -> people (person_id));
diesel::joinable!(labels -> tags (tag_id));
diesel::joinable!(labels -> people (made_by));
diesel::joinable!(phones -> people (person_id));
diesel::joinable!(phone_units -> phones (phone_id));
diesel::joinable!(phone_units -> units (unit_id));
diesel::joinable!(phone_units -> people (person_id));
diesel::joinable!(phone_batches -> people (person_id));
diesel::joinable!(phone_steps -> people (person_id));
diesel::joinable!(arrivals -> people (person_id));
diesel::joinable!(arrivals -> buildings (building_id));
diesel::joinable!(arrivals -> units (unit_id));
diesel::joinable!(arrivals -> turnovers (turnover_id));
diesel::joinable!(arrivals -> results (result_id));
diesel::joinable!(photos -> buildings (building_id));
diesel::joinable!(photos -> units (unit_id));
diesel::joinable!(photos -> turnovers (turnover_id));
diesel::joinable!(photos -> people (person_id));
diesel::joinable!(photo_files -> photos (photo_id));
diesel::joinable!(photo_pieces -> photos (photo_id));
diesel::joinable!(document_forms -> documents (document_id));
diesel::joinable!(building_numbers -> buildings (building_id));
diesel::joinable!(urgent_reports -> buildings (building_id));
diesel::joinable!(urgent_reports -> units (unit_id));
diesel::joinable!(urgent_reports -> people (person_id));

diesel::allow_tables_to_appear_in_same_query!(
    portfolios,
    people,
    buildings,
    units,
    households,
    rooms,
    tags,
    fixtures,
    parts,
    checks,
    check_versions,
    schedules,
    schedule_checks,
    former_schedules,
    prior_done,
    due_marks,
    due_rows,
    due_items,
    turnovers,
    visits,
    results,
    deficiencies,
    deficiency_events,
    visit_items,
    turnover_waivers,
    turnover_items,
    documents,
    person_portfolios,
    person_buildings,
    sessions,
    import_files,
    one_time_tokens,
    attempts,
    outbox,
    digest_days,
    audit,
    building_weeks,
    closings,
    building_terms,
    water_losses,
    diagnoses,
    labels,
    phones,
    phone_units,
    phone_batches,
    phone_steps,
    arrivals,
    photos,
    photo_files,
    photo_pieces,
    document_forms,
    urgent_reports,
    building_numbers,
    settings,
);
