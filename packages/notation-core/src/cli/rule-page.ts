export { rulePage } from '../rules/page.js';
