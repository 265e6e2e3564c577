"""Rules on the pages and what lies upon them: `pages.*`, `page.*`, `layer.*`, `preview.*`."""
