/**
 * Has every new version in a table with a `string_id` told to who watches that string. A migration that makes such a table says
 * so of it. What an applied migration said must stay what it says: a later need gets a new function beside this one.
 */
export const tellsStringNews = (table: string): string =>
  `create trigger tell_string_news after insert on ${table} for each row execute function tell_string_news()`;
