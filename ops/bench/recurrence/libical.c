/* Asks libical what the benchmark asks everybody. Built by ops/bench/recurrence.rs with cc; Debian: libical-dev.
 *
 * "next": a line RULE TAB START TAB N, then N days; answers the nanoseconds taken and the first occurrence on or after each
 * day. The rule is parsed and its iterator made beforehand; each question sets where that begins, so that nothing is walked.
 * "days": lines RULE TAB START TAB LATER TAB LAST; answers at most 12 first days TAB the days of the window.
 */
#include <libical/ical.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static struct icaltimetype day_of(const char *text) {
    int year = 0, month = 0, day = 0;
    struct icaltimetype time = icaltime_null_time();
    if (sscanf(text, "%d-%d-%d", &year, &month, &day) != 3) exit(2);
    time.year = year;
    time.month = month;
    time.day = day;
    time.is_date = 1;
    return time;
}

static int number_of(struct icaltimetype day) { return day.year * 10000 + day.month * 100 + day.day; }

static int next(char *line) {
    char *rule = strtok(line, "\t"), *start = strtok(NULL, "\t"), *count = strtok(NULL, "\t\n");
    long asked = atol(count);
    struct icaltimetype *days = calloc((size_t)asked, sizeof *days);
    int *found = calloc((size_t)asked, sizeof *found);
    char text[64];
    for (long at = 0; at < asked; at++) {
        if (!fgets(text, sizeof text, stdin)) return 2;
        days[at] = day_of(text);
    }
    icalrecur_iterator *iterator = icalrecur_iterator_new(icalrecurrencetype_from_string(rule), day_of(start));
    if (!iterator) return 2;
    struct timespec begun, ended;
    clock_gettime(CLOCK_MONOTONIC, &begun);
    for (long at = 0; at < asked; at++) {
        struct icaltimetype day;
        icalrecur_iterator_set_start(iterator, days[at]);
        do day = icalrecur_iterator_next(iterator);
        while (!icaltime_is_null_time(day) && number_of(day) < number_of(days[at]));
        found[at] = number_of(day);
    }
    clock_gettime(CLOCK_MONOTONIC, &ended);
    printf("%lld\n", (ended.tv_sec - begun.tv_sec) * 1000000000LL + (ended.tv_nsec - begun.tv_nsec));
    for (long at = 0; at < asked; at++) printf("%04d-%02d-%02d\n", found[at] / 10000, found[at] / 100 % 100, found[at] % 100);
    icalrecur_iterator_free(iterator);
    free(days);
    free(found);
    return 0;
}

static void days(char *line) {
    char *rule = strtok(line, "\t"), *start = strtok(NULL, "\t"), *later = strtok(NULL, "\t"), *last = strtok(NULL, "\t\n");
    int from = number_of(day_of(later)), to = number_of(day_of(last)), first = 0;
    char window[4096] = "";
    size_t used = 0;
    struct icalrecurrencetype read = icalrecurrencetype_from_string(rule);
    icalrecur_iterator *iterator = read.freq == ICAL_NO_RECURRENCE ? NULL : icalrecur_iterator_new(read, day_of(start));
    if (!iterator) {
        puts("refused");
        return;
    }
    for (;;) {
        struct icaltimetype day = icalrecur_iterator_next(iterator);
        int number = number_of(day);
        if (icaltime_is_null_time(day) || number > 20601231 || (first == 12 && number > to)) break;
        if (first < 12) {
            printf("%s%04d-%02d-%02d", first ? " " : "", day.year, day.month, day.day);
            first++;
        }
        if (number >= from && number <= to && used + 16 < sizeof window)
            used += (size_t)sprintf(window + used, "%s%04d-%02d-%02d", used ? " " : "", day.year, day.month, day.day);
    }
    printf("\t%s\n", window);
    icalrecur_iterator_free(iterator);
}

int main(int argc, char **argv) {
    char line[4096];
    icalerror_set_errors_are_fatal(0);
    while (fgets(line, sizeof line, stdin)) {
        if (argc > 1 && !strcmp(argv[1], "days")) days(line);
        else if (next(line)) return 2;
    }
    return 0;
}
