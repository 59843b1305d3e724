//! A counter: a number and a button.

use leptos::prelude::*;

#[component]
fn Counter() -> impl IntoView {
    let count = RwSignal::new(0);
    view! {
        <main>
            <h1>"Counter"</h1>
            <output id="reading">{move || count.get()}</output>
            <button id="key-2" type="button" on:click=move |_| count.update(|count| *count += 2)>"2"</button>
        </main>
    }
}

fn main() {
    leptos::mount::mount_to_body(Counter);
}
